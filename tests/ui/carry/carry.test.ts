/** What is said of a page, and what is typed at the check points: pure. */
import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import type { CarriedCheck } from '../../../src/core/carry/carriedcheck.ts'
import type { CarryWish } from '../../../src/core/carry/numbers.ts'
import type { CarryPage } from '../../../src/core/carry/page.ts'
import { carryBudget, carryPage } from '../../../src/core/questions.ts'
import { alarms } from '../../../src/ui/carry/budgetwords.ts'
import { checkSaid, expectedWords } from '../../../src/ui/carry/checkwords.ts'
import { emptyCheck, isCoarse, readCheck, STEP_KIND, typedTarget } from '../../../src/ui/carry/form.ts'
import { pageText } from '../../../src/ui/carry/pagetext.ts'
import { assumptions, noteOf, numberLabel, slipWords, stateSentence } from '../../../src/ui/carry/words.ts'
import { answered } from '../../helpers/answered.ts'
import { plain } from '../../helpers/plain.ts'
import { someOf } from '../../helpers/some.ts'

const NOW = '2026-11-25T12:00:00Z'
const book = JSON.parse(readFileSync(new URL('../../browser/fixtures/meadow.fieldbook.json', import.meta.url), 'utf8'))
function pageFor(wish: Partial<CarryWish>): CarryPage {
  return answered(
    carryPage(book, {
      now: NOW,
      wish: { aiming: 'geometry', law: 'jack', unit: 'counts', way: 'command', step: 5, ...wish },
    }),
  )
}
const jack = pageFor({})
const line = pageFor({ aiming: 'paper', law: 'line', unit: 'degrees' })

describe('a page in words', () => {
  it('has every number once, as it is to be typed, with the keyboard’s own signs', () => {
    for (const page of [jack, line, pageFor({ aiming: 'site', law: 'cubic' })]) {
      const text = pageText(page)
      for (const n of someOf(page.numbers))
        expect(
          text
            .split('\n')
            .filter(l => l.startsWith(`  ${numberLabel(page, n).replaceAll('’', "'").replaceAll('−', '-')}: ${n.text}`))
            .length,
          n.id,
        ).toBeGreaterThan(0)
      // biome-ignore lint/suspicious/noControlCharactersInRegex: that is what is looked for
      expect(text).toMatch(/^[\x09\x0a\x20-\x7e°]*$/)
    }
  })

  it('names what it must assume: site, refraction, a topocentric Moon, and what of the mount stays as entered', () => {
    const said = assumptions(line).join('\n')
    for (const part of [
      'latitude 48.7200°',
      'refraction on',
      'not from the Earth’s centre',
      'as entered: 175.00°',
      'arms 700 and 420',
    ])
      expect(plain(said)).toContain(part)
    // No sentence may call a mount "as entered" whose numbers the page gives, nor a jack whose own dimensions it gives.
    expect(assumptions(jack).join('\n')).not.toContain('as entered')
  })

  it('tells enough, would do, and not enough apart', () => {
    const remains = { ...line.remains, p95Deg: 0.2, echoLossDb: 0.04, allLossDb: 0.6 }
    expect(noteOf({ ...remains, state: 'within' }, 0.5)).toMatch(/^Enough: leaves 0\.20°/)
    expect(noteOf({ ...remains, state: 'open' }, 0.5)).toMatch(/^Enough once there are more sightings: leaves/)
    expect(noteOf({ ...remains, state: 'over' }, 0.5)).toMatch(/^Not enough/)
    expect(stateSentence({ ...remains, state: 'open' }, 0.5)).toMatch(/More sightings first/)
  })
})

describe('the check points', () => {
  const direction = typedTarget({ target: { type: 'landmark', azDeg: 200, elDeg: 30 }, azDeg: 200, elDeg: 30 })
  const moon = typedTarget({ target: { type: 'moon' }, azDeg: 190, elDeg: 40 })
  const form = (...targets: (typeof moon)[]) => ({ ...emptyCheck(), targets })

  it('are read when both axes are typed, and what moves has its time; one half typed holds it up', () => {
    expect(readCheck(form(direction, moon), line, NOW)).toBeNull()
    const typed = { ...direction, lower: '31,25', upper: '-12.5' }
    expect(readCheck(form(typed, moon), line, NOW)).toEqual([
      { utc: NOW, target: direction.target, lower: 31.25, upper: -12.5, decimals: { lower: 2, upper: 1 } },
    ])
    expect(readCheck(form({ ...typed, upper: '' }), line, NOW)).toBeNull()
    const untimed = { ...moon, lower: '31', upper: '12' }
    expect(readCheck(form(typed, untimed), line, NOW)).toBeNull()
    expect(readCheck(form(typed, { ...untimed, utc: '2026-11-25 12:00:05' }), line, NOW)).toHaveLength(2)
  })

  it('know whether finer digits would tell more', () => {
    const typed = readCheck(form({ ...direction, lower: '31.2', upper: '-12.5' }), line, NOW)!
    expect(isCoarse(typed, line)).toBe(true)
    expect(isCoarse(readCheck(form({ ...direction, lower: '31.25', upper: '-12.50' }), line, NOW)!, line)).toBe(false)
  })

  it('take a step in degrees for commands, in counts for readings of counts', () => {
    expect(STEP_KIND({ way: 'command', unit: 'counts' }).unit).toBe('°')
    expect(STEP_KIND({ way: 'reading', unit: 'counts' }).unit).toBe('counts')
  })

  const told: CarriedCheck = { verdict: 'agrees', fits: [], expected: [], offSigma: [], unseen: [] }
  it('are good only where nothing that costs could have hidden', () => {
    expect(checkSaid(line, told, false)).toMatchObject({ state: 'good', list: [] })
    const hidden = checkSaid(line, { ...told, unseen: [{ cause: 'digit', id: 'lower.0', axis: 'lower' }] }, true)
    expect(hidden.state).toBe('look-out')
    expect(hidden.text.join(' ')).toContain('more decimals')
    expect(hidden.list).toEqual(['A wrong digit in the offset of tilt'])
  })

  it('name the slip with its number, what is printed and what seems to stand there', () => {
    const slip = { cause: 'sign', id: 'lower.0', axis: 'lower', printed: '-1.88', text: '1.88' } as const
    expect(slipWords(line, slip)).toBe('the offset of tilt has the wrong sign: 1.88 in place of −1.88')
    expect(slipWords(jack, { ...slip, cause: 'missing', id: 'headingDeg', axis: null })).toBe(
      'the heading of the mount is left out',
    )
    for (const cause of [
      'convention',
      'axes',
      'nothing',
      'no-aiming',
      'no-law',
      'other-page',
      'other-way',
      'row',
    ] as const)
      expect(slipWords(line, { cause, id: null, axis: null, printed: null, text: null })).toMatch(/^[a-z].{10,}/)
  })

  it('show beside each target what the page would have', () => {
    const typed = [{ utc: NOW, target: direction.target, lower: 31.2, upper: -12.5, decimals: { lower: 1, upper: 1 } }]
    const rows = expectedWords(line, { ...told, expected: [{ lower: 30, upper: -12.4 }] }, typed, [
      { ...direction, lower: '31.2', upper: '-12.5' },
    ])
    expect(rows).toEqual([
      {
        title: 'Azimuth 200°, elevation 30°',
        text: 'By the page tilt 30.00°, it shows 31.20°; swing −12.40°, it shows −12.50°.',
      },
    ])
  })
})

describe('the budget', () => {
  const told = answered(carryBudget(book, { now: NOW }))
  const { upper } = told.axes

  it('keeps in sight what must not be folded away: a guessed limit, an axis that hunts, one too slow', () => {
    expect(alarms(upper)).toEqual([])
    const guessed = { ...upper, hard: { ...upper.hard, isGuessed: true } }
    const hunting = { ...upper, deadBand: { ...upper.deadBand, hunts: true } }
    const slow = { ...upper, drivePerMin: upper.fastestPerMin / 2 }
    expect([guessed, hunting, slow].map(alarms)).toEqual([
      [expect.stringMatching(/guesses: find them first/)],
      [expect.stringMatching(/^Dead band: More than its share/)],
      [expect.stringMatching(/^Too slow where the Moon is fastest/)],
    ])
  })
})

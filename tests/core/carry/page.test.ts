import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { type CarryWish, LAWS } from '../../../src/core/carry/numbers.ts'
import { carryChoices, carryPage, solve } from '../../../src/core/questions.ts'
import type { FieldBook } from '../../../src/core/records/fieldbook.ts'
import { answered } from '../../helpers/answered.ts'
import { carryScene, isKept, pageFor, starMissDeg, trackedBy, wishesOf, wishName } from '../../helpers/carrytrials.ts'
import { chance } from '../../helpers/random.ts'
import { shareOf } from '../../helpers/share.ts'
import { KINDS } from '../../helpers/simulate.ts'
import { someOf } from '../../helpers/some.ts'
import { bookOf, weir } from '../../helpers/stations.ts'

const NOW = '2026-11-25T12:00:00Z'
const LINE: CarryWish = { aiming: 'paper', law: 'line', unit: 'degrees', way: 'command', step: 2 }
const demo = JSON.parse(
  readFileSync(new URL('../../browser/fixtures/meadow.fieldbook.json', import.meta.url), 'utf8'),
) as FieldBook

describe('a page', () => {
  // 20 stations of each kind and every page of each: `npm run studies` (carrypages).
  it.each(shareOf(KINDS, 2))('is kept by a tracker that knows it and nothing else, to a hundredth: %s', kind => {
    const scene = carryScene(kind === 'el-over-az' ? 61 : 62, { kind, upper: 'jack' })
    const c = chance(5)
    const all = wishesOf(scene)
    const drawn = new Set([
      ...LAWS.flatMap(law => all.filter(w => w.law === law).slice(0, 1)),
      ...Array.from({ length: 2 }, () => c.one(all)),
    ])
    for (const wish of someOf(drawn)) {
      const page = pageFor(scene, wish)
      if (page.remains.lostHours > 0) continue
      const kept = trackedBy(scene, page)
      expect(isKept(kept), `${wishName(wish)} says ${kept.promisedRmsDeg}, leaves ${kept.rmsDeg}`).toBe(true)
      expect(kept.lost).toBe(0)
    }
  })

  it('of a virtual site puts a leaning base on the stars to 0.001°, and on the Moon to what it says', () => {
    const c = chance(78)
    for (const [k, kind] of (['el-over-az', 'az-over-el', 'x-y'] as const).entries()) {
      const lean = { leanNorth: c.between(-4, 4), leanEast: c.between(-4, 4) }
      const level = { heading: c.between(-6, 6), level: c.between(-4, 4) }
      const degrees = { kind, lower: 'degrees', upper: 'degrees' } as const
      const scene = carryScene(600 + k, degrees, kind === 'el-over-az' ? lean : level, true)
      expect(starMissDeg(scene, c)).toBeLessThan(0.001)
      const kept = trackedBy(scene, pageFor(scene, { ...LINE, aiming: 'site' }))
      expect(isKept(kept)).toBe(true)
      // The Moon's parallax: 0.017° for a degree moved.
      expect(kept.promisedRmsDeg).toBeGreaterThan(0.001)
    }
  })

  it('of slope and offset is that of the solution: the same numbers, as far as they are printed', () => {
    const page = answered(carryPage(demo, { now: NOW, wish: LINE }))
    const { controller } = answered(solve(demo, { now: NOW }))
    const value = (id: string) => page.numbers.find(n => n.id === id)!.value
    expect(value('lower.1')).toBeCloseTo(controller.slopeOffset.lower.slope, 3)
    expect(value('lower.0')).toBeCloseTo(controller.slopeOffset.lower.offsetDeg, 1)
    expect(page.remains.rmsDeg).toBeLessThan(1.02 * controller.slopeOffset.remaining.rmsDeg)
  })

  it('of a mount on paper changes nothing: offset 0, heading, axis and jack as entered', () => {
    const book = bookOf(weir('az-over-el', 50))
    const [station] = book.stations
    station!.mount.upper = {
      readout: {
        type: 'jack',
        baseArmMm: 620,
        rodArmMm: 410,
        lengthAtReadingZeroMm: 480,
        countsPerMm: 2,
        phiAtAngleZeroDeg: 95,
        direction: 1,
      },
      minReading: 10,
      maxReading: 700,
    }
    const page = answered(carryPage(book, { now: NOW, wish: { ...LINE, aiming: 'geometry', law: 'jack' } }))
    const text = (id: string) => page.numbers.find(n => n.id === id)!.text
    expect(['headingDeg', 'axisElDeg', 'dishOffsetDeg'].map(text)).toEqual(['180.000', '0', '0'])
    expect(
      ['baseArmMm', 'rodArmMm', 'lengthAtReadingZeroMm', 'phiAtAngleZeroDeg'].map(x => Number(text(`upper.${x}`))),
    ).toEqual([620, 410, 480, 95])
    expect(page.remains.worstDeg).toBeLessThan(0.01)
  })

  it('says when its setup began, and for which feed it is', () => {
    const page = answered(carryPage(demo, { now: NOW, wish: LINE }))
    expect(page.setupFromUtc).toBe(answered(solve(demo, { now: NOW })).setupFromUtc)
    expect(page.madeUtc).toBe(NOW)
    expect(page.feed.id).toBe(demo.stations[0]!.feeds[0]!.id)
  })

  it('of a table takes in what straight lines between its rows are off by: wider steps leave more', () => {
    const scene = carryScene(7, { kind: 'az-over-el', lower: 'jack', upper: 'jack' })
    const wish = { aiming: 'geometry', law: 'table', unit: 'counts', way: 'command' } as const
    const [fine, coarse] = [1, 20].map(step => pageFor(scene, { ...wish, step }).remains)
    expect(coarse!.worstDeg).toBeGreaterThan(fine!.worstDeg + 0.05)
    const { form } = pageFor(scene, { ...wish, step: 5 }).axes.upper
    expect(form.form === 'table' && form.rows.slice(1, -1).every(([angle]) => angle % 5 === 0)).toBe(true)
  })
})

describe('what a program may take', () => {
  it('is listed from the most to the least, with what each leaves, and whether that is enough', () => {
    const told = answered(carryChoices(demo, { now: NOW, wish: LINE }))
    expect(told.aimings.map(a => a.aiming)).toEqual(['geometry', 'site', 'paper'])
    expect(told.laws.map(l => l.law)).toEqual(['jack', 'table', 'cubic', 'quadratic', 'line', 'offset'])
    expect(told.aimings[0]!.remains.p95Deg).toBeLessThan(told.aimings[2]!.remains.p95Deg)
  })

  it.each([
    [0.5, ['open', 'over']],
    [6, ['within']],
  ])(
    '%s dB allowed: over where the page leaves more, within where the sightings too leave less',
    (echoLossDb, states) => {
      const book = { ...demo, stations: [{ ...demo.stations[0]!, tolerance: { echoLossDb } }] }
      const told = answered(carryChoices(book, { now: NOW, wish: LINE }))
      const all = [...told.aimings, ...told.laws].map(t => t.remains)
      expect([...new Set(all.map(r => r.state))].sort()).toEqual(states)
      for (const r of all) {
        const bySelf = r.p95Deg <= told.toleranceDeg
        expect(r.state).toBe(!bySelf ? 'over' : r.allP95Deg <= told.toleranceDeg ? 'within' : 'open')
        // What is allowed at the tolerance: the loss goes by the square.
        expect(r.echoLossDb).toBeCloseTo(echoLossDb * (r.p95Deg / told.toleranceDeg) ** 2, 6)
      }
    },
  )

  it('has the pole in place of a site on an hour-angle mount, and neither triangle nor counts where nothing counts', () => {
    const told = answered(
      carryChoices(bookOf(weir('ha-dec', -35)), {
        now: NOW,
        wish: { ...LINE, aiming: 'site', law: 'jack', unit: 'counts' },
      }),
    )
    expect(told.aimings.map(a => a.aiming)).toEqual(['geometry', 'pole', 'paper'])
    expect(told.laws.map(l => l.law)).toEqual(['cubic', 'quadratic', 'line', 'offset'])
    expect(told.wish).toMatchObject({ aiming: 'pole', law: 'line', unit: 'degrees' })
    expect(told.hasUnits).toBe(false)
  })

  it('the polar axis is told by the end that points up: at 35° S it points south, 35° high', () => {
    const page = answered(carryPage(bookOf(weir('ha-dec', -35)), { now: NOW, wish: { ...LINE, aiming: 'pole' } }))
    expect(page.numbers.filter(n => n.axis === null).map(n => n.value)).toEqual([180, 35])
  })
})

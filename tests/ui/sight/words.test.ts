import { describe, expect, it } from 'vitest'
import type { MountRecord } from '../../../src/core/records/fieldbook.ts'
import { missWords } from '../../../src/ui/kit/miss.ts'
import { dialled, keptReading } from '../../../src/ui/kit/phrases.ts'
import { readingText, readingWords, typedReading } from '../../../src/ui/kit/readings.ts'
import { residualSentence, shadowSentence } from '../../../src/ui/kit/sighting/words.ts'
import { nextWords, SIGHT } from '../../../src/ui/sight/words.ts'
import { plain } from '../../helpers/plain.ts'
import { smallBook } from '../../helpers/smallbook.ts'
import { solved } from '../../helpers/solved.ts'

const { mount } = smallBook().stations[0]

describe('residualSentence', () => {
  it('turns the residual about: the model 0.4° left and 0.1° low of the Moon is a Moon 0.4° right, 0.1° high', () => {
    expect(plain(residualSentence({ type: 'moon' }, solved(-0.4, -0.1)))).toBe(
      'The Moon stood 0.4° right, 0.1° high of where it was expected.',
    )
    expect(plain(residualSentence({ type: 'sun' }, solved(0.52, 0.31)))).toBe(
      'The Sun stood 0.5° left, 0.3° low of where it was expected.',
    )
  })

  it('has no direction for what rounds to nothing', () => {
    expect(plain(residualSentence({ type: 'moon' }, solved(0.01, -0.02)))).toMatch(/stood where it was expected/)
    expect(plain(missWords({ rightDeg: 0.01, upDeg: -0.42 }, 0.3))).toBe('0.4° low')
  })
})

describe('where a sighting stood against the book before it', () => {
  it('makes one sentence of it, also where it stood spot on', () => {
    const { stood, against } = SIGHT
    const sun = { type: 'sun' } as const
    const [spot, off] = [missWords({ rightDeg: 0.01, upDeg: 0 }, 0.5), missWords({ rightDeg: 0.4, upDeg: 0 }, 0.5)]
    expect(plain(`${stood(sun)} ${spot}. ${against(true, true, 1)}`)).toBe(
      'The Sun stood spot on (to 0.1°). It was where it was expected before this sighting, going by 1 sighting.',
    )
    expect(plain(`${stood(sun)} ${off} ${against(false, true, 3)}`)).toBe(
      'The Sun stood 0.4° right of where it was expected before this sighting, going by 3 sightings.',
    )
  })
})

describe('shadowSentence', () => {
  it('says right and low with σ', () => {
    const s = shadowSentence({ rightDeg: 1.0503, upDeg: -0.5251, sigmaDeg: 0.382 })
    expect(plain(s.lead + s.off + s.tail)).toBe(
      'The Sun stands 1.05° right, 0.53° low of the dish’s shadow line, ± 0.38°.',
    )
    expect(shadowSentence({ rightDeg: 0, upDeg: 0, sigmaDeg: 0.38 }).off).toBe('on')
  })
})

describe('nextWords', () => {
  const now = Date.parse('2026-05-01T20:14:00Z')
  const next = (what: 'rises' | 'leaves-reach' | 'comes-within-reach', min: number) => ({
    what,
    utcMs: now + 60_000 * min,
  })

  it('says when and at which stop the Moon leaves', () => {
    const why = 'upper-max' as const
    const p = { elDeg: 34, reachable: true, next: next('leaves-reach', 134), why }
    expect(plain(nextWords(mount, p, now))).toBe(
      'Leaves reach in 2 h 14 min, at 22:28 UTC: swing at its 820 counts stop.',
    )
  })

  it('says that it is down and when it rises, or why it is out of reach', () => {
    expect(plain(nextWords(mount, { elDeg: -3, reachable: false, next: next('rises', 60), why: 'floor' }, now))).toBe(
      'Below the horizon. Rises in 1 h, at 21:14 UTC.',
    )
    expect(plain(nextWords(mount, { elDeg: 9, reachable: false, next: null, why: 'mask' }, now))).toBe(
      'Out of reach: behind your skyline, for the coming day.',
    )
    expect(plain(nextWords(mount, { elDeg: 30, reachable: false, next: null, why: 'upper-triangle' }, now))).toMatch(
      /^Out of reach: \w+ beyond the reach of its jack, for/,
    )
    expect(plain(nextWords(mount, { elDeg: 30, reachable: false, next: null, why: 'no-pose' }, now))).toBe(
      'Out of reach: too near the axis for this mount, for the coming day.',
    )
  })
})

describe('keptReading', () => {
  const inDegrees: MountRecord = { ...mount, upper: { ...mount.upper, readout: { type: 'degrees' } } }

  it('shows whole counts, and the digits that were entered', () => {
    expect(plain(keptReading(mount, 'upper', 410))).toBe('410 counts')
    expect(plain(keptReading(mount, 'upper', 410.5))).toBe('410.5 counts')
    expect(plain(keptReading(inDegrees, 'upper', 31.25))).toBe('31.25°')
  })

  it('shows what was typed as 118.0 as 118.0°: in a list, in a sentence, on the dial, in a form', () => {
    const reading = Number('118.0')
    expect(keptReading(inDegrees, 'upper', reading)).toBe('118.0°')
    expect(readingWords(inDegrees, 'upper', reading)).toBe('swing 118.0°')
    expect(readingText(inDegrees, 'upper', reading)).toBe('118.0°')
    expect(dialled(inDegrees, 'upper', reading).value).toBe('118.0°')
    expect(typedReading(inDegrees, 'upper', reading)).toBe('118.0')
    expect(typedReading(mount, 'upper', reading)).toBe('118')
  })

  it('goes by the smallest step that the axis shows, and never drops what was entered finer', () => {
    const stepped = (stepDeg: number): MountRecord => ({ ...inDegrees, upper: { ...inDegrees.upper, stepDeg } })
    expect(keptReading(stepped(0.01), 'upper', 118)).toBe('118.00°')
    expect(dialled(stepped(0.01), 'upper', 117.956).value).toBe('117.96°')
    expect(typedReading(stepped(0.01), 'upper', 117.5)).toBe('117.50')
    expect(keptReading(stepped(1), 'upper', 118)).toBe('118°')
    expect(keptReading(stepped(1), 'upper', 118.25)).toBe('118.25°')
    expect(typedReading(stepped(1), 'upper', 118)).toBe('118')
    expect(keptReading(stepped(0.25), 'upper', 118.5)).toBe('118.50°')
  })
})

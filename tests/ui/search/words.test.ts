/** What the search says: how far, how long, what should be heard and by which Sun, where a step lies. */
import { describe, expect, it } from 'vitest'
import type { FirstSearchJson } from '../../../src/core/plan/firstsearchjson.ts'
import {
  extentWords,
  longSearchWords,
  lowWords,
  riseWhy,
  riseWords,
  searchStepWords,
  skippedWords,
  whereWords,
} from '../../../src/ui/search/words.ts'
import { plain } from '../../helpers/plain.ts'

const PLAN: FirstSearchJson = {
  startedUtc: '2026-06-10T11:00:00Z',
  state: 'search',
  sun: { azDeg: 170, elDeg: 60 },
  nextUtc: null,
  beamwidthDeg: 5.4,
  lossDb: 3,
  stepDeg: { along: 3.8, across: 3.8 },
  extentDeg: { wide: 12, narrow: 4.6 },
  isCircle: false,
  isUnrolled: false,
  steps: [],
  skipped: 0,
  leftOut: 0,
  seconds: 660,
  sigmaDeg: 7.3,
  rise: { sunDb: 9.06, betweenDb: 6.57, fluxFrom: 'quiet', sfu: 50, systemFrom: 'assumed', isHeard: true },
  moon: 'too-far',
}

describe('the extent', () => {
  it('has both ways where they differ, one where they do not, and all the way round where nothing is known', () => {
    expect(extentWords(PLAN)).toMatch(/up to 12° .* one way, and 4\.6° across that\.$/)
    expect(extentWords({ ...PLAN, extentDeg: { wide: 12, narrow: 11 } })).toMatch(
      /up to 12° from where it is expected\.$/,
    )
    expect(extentWords({ ...PLAN, isCircle: true })).toMatch(
      /all the way round at the Sun’s height.*4\.6° above and below/,
    )
  })

  it('says that the Sun may be where no step goes', () => {
    expect(skippedWords(PLAN)).toBeNull()
    expect(plain(skippedWords({ ...PLAN, skipped: 1 }))).toBe(
      '1 step beyond the limits is skipped: the Sun may be there.',
    )
    expect(plain(skippedWords({ ...PLAN, skipped: 12, leftOut: 3 }))).toMatch(
      /12 steps .* are skipped.* 3 steps farther out are not listed/,
    )
  })

  it('offers the shadow only where there is one', () => {
    expect(longSearchWords({ ...PLAN, isCircle: true }, true)).toMatch(/shadow of the feed/)
    expect(longSearchWords({ ...PLAN, isCircle: true }, false)).not.toMatch(/shadow/)
  })
})

describe('what should be heard', () => {
  it('is a span from between steps to the middle of the beam, and by which Sun', () => {
    expect(plain(riseWords(PLAN))).toBe('The Sun should be 6.6 to 9.1 dB above cold sky.')
    expect(riseWhy(PLAN)).toMatch(/quiet Sun.*ordinary one of 100 K/)
    const measured = { ...PLAN, rise: { ...PLAN.rise, fluxFrom: 'measured' as const, systemFrom: 'measured' as const } }
    expect(riseWhy(measured)).toBe('By the flux of your last noise record.')
  })

  it('is not known where no flux is published', () => {
    expect(riseWords({ ...PLAN, rise: { ...PLAN.rise, sunDb: null, betweenDb: null, sfu: null } })).toMatch(
      /is not known/,
    )
  })
})

describe('a step', () => {
  it('is counted from one, and lies right or left, up or down of the middle', () => {
    expect(plain(searchStepWords(3, 103))).toBe('Step 4 of 103')
    expect(plain(whereWords({ rightDeg: -3.8, upDeg: 7.62 }))).toBe('left 3.8°, up 7.6° of where the Sun is expected')
    expect(whereWords({ rightDeg: 0, upDeg: 0 })).toBe('where the Sun is expected')
  })

  it('waits for the Sun', () => {
    expect(plain(lowWords({ ...PLAN, nextUtc: '2026-06-11T04:35:00Z' }))).toMatch(/high enough from 04:35 UTC/)
    expect(lowWords(PLAN)).toMatch(/stays so/)
  })
})

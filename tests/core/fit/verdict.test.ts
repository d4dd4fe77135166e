import { describe, expect, it } from 'vitest'
import { type Judged, verdictOf } from '../../../src/core/fit/verdict.ts'
import { withDismissed } from '../../../src/core/records/dismissed.ts'
import type { Suspect } from '../../../src/core/records/solution.ts'
import { gravelPit } from '../../helpers/stations.ts'

const station = gravelPit()
const good: Judged = { p95: 0.4, tolerance: 0.5, hours: 200, used: 12, outliers: 1, suspects: [] }
const suspect = { kind: 'counter-step', axis: 'upper', text: 'x', deltaChi2: 40 } as unknown as Suspect
const why = (change: Partial<Judged>, of = station) => verdictOf(of, { ...good, ...change }).whyNot.map(w => w.kind)

describe('verdictOf', () => {
  it('is within at the tolerance itself, not beyond it, and never where the error is no number', () => {
    expect(verdictOf(station, good)).toEqual({ within: true, whyNot: [] })
    expect(why({ p95: 0.5 })).toEqual([])
    expect(why({ p95: 0.501 })).toEqual(['loss'])
    expect(why({ p95: Number.NaN })).toEqual(['loss'])
  })

  it('does not believe the rest where more than a third was set aside', () => {
    expect(why({ used: 8, outliers: 4 })).toEqual([])
    expect(verdictOf(station, { ...good, used: 8, outliers: 5 })).toEqual({
      within: false,
      whyNot: [{ kind: 'most-aside', outliers: 5, of: 13 }],
    })
  })

  it('tells nothing sighted from all of it set aside', () => {
    expect(why({ used: 0, outliers: 0 })).toEqual(['no-sightings'])
    expect(why({ used: 0, outliers: 3 })).toEqual(['all-aside'])
  })

  it('names the weightiest reason first: the suspect, then what was set aside, then the loss or the reach', () => {
    expect(why({ suspects: [suspect], used: 4, outliers: 4, p95: 2 })).toEqual(['suspect', 'most-aside', 'loss'])
    expect(why({ suspects: [suspect], hours: 0, p95: 2 })).toEqual(['suspect', 'out-of-reach'])
  })

  it('lets a suspect go that the person has put aside, until it is much stronger', () => {
    const put = withDismissed(station, suspect)
    expect(why({ suspects: [suspect] }, put)).toEqual([])
    expect(why({ suspects: [{ ...suspect, deltaChi2: 4000 }] }, put)).toEqual(['suspect'])
  })
})

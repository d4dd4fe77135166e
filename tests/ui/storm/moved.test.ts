/** The words of "Has it moved?": holds only where the core says so, and never without since when. */
import { describe, expect, it } from 'vitest'
import type { HasMovedJson } from '../../../src/core/plan/hasmovedjson.ts'
import type { StormCheckJson } from '../../../src/core/plan/stormjson.ts'
import { movedSentence, whenMoved } from '../../../src/ui/storm/movedwords.ts'
import { plain } from '../../helpers/plain.ts'
import { gravelPit } from '../../helpers/stations.ts'

const check = (x: Partial<StormCheckJson>): StormCheckJson => ({
  verdict: 'cannot-tell',
  why: 'unseen',
  toleranceDeg: 0.5,
  atMostDeg: 1,
  weakest: 'mount',
  standsOut: 1,
  explanations: [],
  isExplained: false,
  odd: null,
  found: [],
  next: [],
  isEnough: false,
  sharper: null,
  ...x,
})
const since = { beforeUtc: '2026-11-14T10:20:00Z', firstUtc: '2026-11-20T09:00:00Z' }
const said = (x: Partial<HasMovedJson>): HasMovedJson => ({
  verdict: 'cannot-tell',
  since: null,
  visits: 3,
  fromUtc: since.firstUtc,
  check: check({}),
  ...x,
})
/** Without what stands in brackets. */
const bare = (text: string): string => plain(text).replaceAll(/ \(.*?\)/g, '')
const words = (x: Partial<HasMovedJson>) => bare(movedSentence(gravelPit(), said(x)))

describe('has it moved, in words', () => {
  it('says that it holds, and since when', () => {
    expect(words({ verdict: 'holds', since, check: check({ verdict: 'nothing-moved', why: null }) })).toBe(
      'It holds: nothing has moved since before 20 Nov 2026, 09:00 UTC. A move that matters would have shown.',
    )
  })

  it('names the span of a move, and of nothing else', () => {
    const moved = said({ verdict: 'moved', since, check: check({ verdict: 'moved', why: null }) })
    expect(bare(whenMoved(moved)!)).toBe('It moved between 14 Nov 2026, 10:20 UTC and 20 Nov 2026, 09:00 UTC.')
    expect(movedSentence(gravelPit(), moved)).toContain('moved')
    expect(whenMoved(said({ verdict: 'holds', since }))).toBeNull()
  })

  it('never says that it holds, nor that it moved, where nobody can tell', () => {
    const all = [
      words({ visits: 0, check: null }),
      words({ visits: 1, check: null }),
      words({ check: null }),
      words({}),
      words({ check: check({ verdict: 'moved', why: null }) }),
      words({ check: check({ why: 'loose-before' }) }),
      words({ check: check({ why: 'odd-one', odd: 'x' }) }),
    ]
    for (const text of all) expect(text).toMatch(/^Cannot tell/)
    expect(new Set(all).size).toBe(all.length)
    for (const text of all) expect(text).not.toContain('storm')
  })
})

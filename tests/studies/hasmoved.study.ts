/**
 * Has it moved, asked of all that was measured: how often it is right. Stations of every kind, sighted for three weeks and on three visits
 * after a storm that moves nothing or, from a third of the tolerance to thirty times it over the Moon's sky, one thing or two.
 * `falseMoved`: "moved" of those that stood still; `slipMoved` the same where one of the later sightings was misread by 4 to 15°. `falseHolds`: "holds" of those that moved beyond the tolerance. `when`: of those said to
 * have moved, the storm lies within the span that is named. `first`, `among`: what moved is named first, or among the rivals.
 * STILL and MOVED: stations of each kind (default 60 and 60).
 */

import { isNamed, type MovedTrial, movedTrial, STORM_MS } from '../helpers/movedtrials.ts'
import { KINDS } from '../helpers/simulate.ts'

const STILL = Number(process.env.STILL ?? 60)
const MOVED = Number(process.env.MOVED ?? 60)
const share = (a: number, b: number) => (b === 0 ? null : Number((a / b).toFixed(3)))

function figures(still: readonly MovedTrial[], slips: readonly MovedTrial[], moved: readonly MovedTrial[]) {
  const beyond = moved.filter(t => t.storm.size > 1)
  const said = moved.filter(t => t.found.verdict === 'moved')
  const when = said.filter(({ found: { since } }) => since!.beforeMs < STORM_MS && since!.firstMs >= STORM_MS)
  const count = (list: readonly MovedTrial[], verdict: string) => list.filter(t => t.found.verdict === verdict).length
  return {
    still: still.length,
    falseMoved: share(count(still, 'moved'), still.length),
    slipMoved: share(count(slips, 'moved'), slips.length),
    holds: share(count(still, 'holds'), still.length),
    beyond: beyond.length,
    falseHolds: share(count(beyond, 'holds'), beyond.length),
    movedSaid: share(count(beyond, 'moved'), beyond.length),
    when: share(when.length, said.length),
    first: share(said.filter(t => isNamed(t) === 'first').length, said.length),
    among: share(said.filter(t => isNamed(t) === 'among').length, said.length),
    part: share(said.filter(t => isNamed(t) === 'part').length, said.length),
  }
}

export default async () => {
  const still: MovedTrial[] = []
  const slips: MovedTrial[] = []
  const moved: MovedTrial[] = []
  for (const [i, kind] of KINDS.entries())
    for (let k = 0; k < Math.max(STILL, MOVED); k++) {
      const seed = 52_000 + 1000 * i + k
      const calm = k < STILL ? movedTrial(seed, kind, true) : null
      const slip = k < STILL ? movedTrial(seed, kind, true, { hasSlip: true }) : null
      const storm = k < MOVED ? movedTrial(seed + 500, kind, false) : null
      if (calm) still.push(calm)
      if (slip) slips.push(slip)
      if (storm) moved.push(storm)
    }
  const of = (kind: string) =>
    figures(
      still.filter(t => t.kind === kind),
      slips.filter(t => t.kind === kind),
      moved.filter(t => t.kind === kind),
    )
  return { all: figures(still, slips, moved), ...Object.fromEntries(KINDS.map(kind => [kind, of(kind)])) }
}

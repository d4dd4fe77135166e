/**
 * The feed check, before and after obeying: feeds 0 to 30 mm off on all mounts in both hemispheres, sighted by signal and shadow; advised,
 * moved to 1 mm (or, one in five, the wrong way), sighted again as the check wants it. Shares:
 * `falseMove`: "move" though it sits within half the limit; `missed`: "leave" though it sits beyond twice the limit;
 * `falseDone`: of those called done, the share that sits beyond the limit; `done`: "done" where it sits within half the limit; `chases`: "move" there;
 * `caughtWrongWay`: a move the wrong way that is then not called done; `after`: rounds of sightings until something is said.
 */
import { type FeedCheck, feedCheckOf, feedMoved } from '../../src/core/check/feed.ts'
import { solveStation } from '../../src/core/fit/solution.ts'
import type { SightingRecord, StationRecord } from '../../src/core/records/fieldbook.ts'
import { stationFromRecord } from '../../src/core/records/stationintake.ts'
import { chance } from '../helpers/random.ts'
import { drawScene, KINDS, type Scene, START_MS, sight, utcOf } from '../helpers/simulate.ts'

const DAY = 86_400_000

/** The Sun by signal and by shadow, `peaks` and `shadows` of them, from an instant on. */
function suns(scene: Scene, fromMs: number, shadows: number, peaks: number, prefix: string): SightingRecord[] {
  const out: SightingRecord[] = []
  let [s, p] = [0, 0]
  for (let k = 0; (s < shadows || p < peaks) && k < 400; k++) {
    const method = s < shadows && (k % 2 === 0 || p >= peaks) ? 'shadow' : 'signal-peak'
    if (method === 'signal-peak' && p >= peaks) continue
    const ms = fromMs + k * 53 * 60_000
    const hpbw = (70 * 299.792458) / scene.record.feeds[0]!.frequencyMHz / scene.record.dish.diameterM
    const wish = { ms, target: { type: 'sun' as const }, method, lowestDeg: 10 }
    const made = sight(
      scene,
      { ...wish, sigmaDeg: method === 'shadow' ? 0.1 : 0.04 * hpbw } as Parameters<typeof sight>[1],
      `${prefix}${k}`,
    )
    if (made === null) continue
    out.push(made)
    if (method === 'shadow') s++
    else p++
  }
  return out
}

const checkOf = (record: StationRecord, ms: number): FeedCheck => {
  const solved = solveStation(stationFromRecord(record))
  return feedCheckOf(solved, solved.station.feeds[0]!, ms)
}

export function feedRates(trials: number) {
  const out: Record<string, unknown> = {}
  for (const kind of KINDS)
    for (const latDeg of [47, -33]) {
      const n = {
        near: 0,
        falseMove: 0,
        far: 0,
        missed: 0,
        checked: 0,
        off: 0,
        falseDone: 0,
        called: 0,
        right: 0,
        done: 0,
        chases: 0,
        open: 0,
        wrongWay: 0,
        caught: 0,
        rounds: 0,
      }
      for (let k = 0; k < trials; k++) {
        const c = chance(500 * KINDS.indexOf(kind) + 40 * k + (latDeg > 0 ? 1 : 2))
        const scene = drawScene(900 + 31 * k + KINDS.indexOf(kind), { kind, latDeg, feeds: 1, wild: false })
        const { record } = scene
        const id = record.feeds[0]!.id
        const truth = scene.truths[0]!.truth
        const [far, way] = [c.between(0, 30), c.between(0, 2 * Math.PI)]
        truth[`feedRight:${id}`] = far * Math.cos(way)
        truth[`feedUp:${id}`] = far * Math.sin(way)
        delete scene.cache
        record.sightings = suns(scene, START_MS, 10, 10, 'a')
        const first = checkOf(record, START_MS + 20 * DAY)
        if (far < first.limit / 2) {
          n.near++
          if (first.verdict === 'move') n.falseMove++
        }
        if (far > 2 * first.limit) {
          n.far++
          if (first.verdict === 'leave') n.missed++
        }
        if (first.verdict !== 'move') continue
        const isWrong = c.next() < 0.2
        const way1 = isWrong ? -1 : 1
        const moved = { ...truth }
        moved[`feedRight:${id}`]! += way1 * first.move.right + c.normal(1)
        moved[`feedUp:${id}`]! += way1 * first.move.up + c.normal(1)
        const when = START_MS + 21 * DAY
        scene.truths.push({ fromMs: when, truth: moved })
        delete scene.cache
        record.changes = [{ id: 'moved', utc: utcOf(when), ...feedMoved(first, first.move) }]
        let check = checkOf(record, when + 1000)
        let from = when + 3_600_000
        for (let round = 0; round < 3 && check.verdict === 'unchecked'; round++) {
          const more = suns(scene, from, check.wanted.shadow, check.wanted.signal, `b${round}`)
          record.sightings = [...record.sightings, ...more]
          from = Math.max(from, ...more.map(s => Date.parse(s.utc))) + 3_600_000
          check = checkOf(record, from)
          n.rounds++
        }
        const left = Math.hypot(moved[`feedRight:${id}`]!, moved[`feedUp:${id}`]!)
        n.checked++
        if (check.verdict === 'done') n.called++
        if (check.verdict === 'unchecked') n.open++
        if (left > check.limit) {
          n.off++
          if (check.verdict === 'done') n.falseDone++
        }
        if (isWrong) {
          n.wrongWay++
          if (check.verdict !== 'done' || left < check.limit) n.caught++
        } else if (left < check.limit / 2) {
          n.right++
          if (check.verdict === 'done') n.done++
          if (check.verdict === 'move') n.chases++
        }
      }
      const share = (a: number, b: number) => (b === 0 ? null : Number((a / b).toFixed(3)))
      out[`${kind} ${latDeg}`] = {
        near: n.near,
        falseMove: share(n.falseMove, n.near),
        far: n.far,
        missed: share(n.missed, n.far),
        moved: n.checked,
        off: n.off,
        calledDone: n.called,
        falseDone: share(n.falseDone, n.called),
        right: n.right,
        done: share(n.done, n.right),
        chases: share(n.chases, n.right),
        open: n.open,
        wrongWay: n.wrongWay,
        caughtWrongWay: share(n.caught, n.wrongWay),
        rounds: share(n.rounds, n.checked),
      }
    }
  return out
}

export default async () => feedRates(Number(process.env.TRIALS ?? 60))

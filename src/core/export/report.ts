/**
 * The field report: all that stands on its one page, as facts; `reporttext.ts` and the screen put them in words. Degrees, metres, MHz,
 * decibels.
 */
import type { Answered } from '../fit/solution.ts'
import { solutionJson } from '../fit/solution.ts'
import { standing } from '../fit/verdict.ts'
import { landscapeOf, type SkyCell } from '../plan/landscape.ts'
import { alignmentOf, lastCarried } from '../records/alignment.ts'
import type { ChangeRecord, FeedRecord, LevelRecord, Method, MountRecord, StationRecord } from '../records/fieldbook.ts'
import { msFromUtc } from '../records/instant.ts'
import { METHOD_WORDS } from '../records/methodwords.ts'
import type { Solution, Suspect } from '../records/solution.ts'
import { degFromRad, type UtcMs } from '../units.ts'

/** What was measured in one way, and how well by the measurement itself: the least and the largest σ of those that count. */
export type MeasuredRow =
  | {
      of: 'sightings'
      method: Method
      count: number
      used: number
      aside: number
      excluded: number
      sun: number
      moon: number
      sigmaDeg: { least: number; most: number } | null
    }
  | { of: 'levels'; what: LevelRecord['what']; count: number; sigmaDeg: { least: number; most: number } }
  | { of: 'references'; count: number }

export interface Report {
  format: 'moonplumb-report'
  version: 1
  station: string
  madeUtc: string
  site: StationRecord['site']
  dish: { diameterM: number; focalRatio: number; fed: 'prime-focus' | 'offset' }
  /** With the beamwidth that was computed with. */
  feed: Pick<FeedRecord, 'id' | 'name' | 'frequencyMHz'> & { beamwidthDeg: number }
  mount: MountRecord
  measured: MeasuredRow[]
  /** First and last measurement; null where there is none. */
  measuredUtc: { from: string; to: string } | null
  /** The feed's own and the mount's parameters are in it, each with its state. */
  solution: Solution
  allowedEchoLossDb: number
  /** Which error is left where in the Moon's month. */
  cells: SkyCell[]
  worst: { azDeg: number; elDeg: number } | null
  /** Not dismissed by the person. */
  suspects: Suspect[]
  /** When the numbers were last put into the tracking program, and whether the mount was altered since; null: never noted. */
  carried: { utc: string; note?: string; isAltered: boolean } | null
  /** Of the setups before and now, the latest first. */
  changes: Pick<ChangeRecord, 'utc' | 'what' | 'note'>[]
}

const METHODS = Object.keys(METHOD_WORDS) as Method[]
const LEVELS: readonly LevelRecord['what'][] = [
  'lower-axis-elevation',
  'upper-axis-elevation',
  'mast-lean',
  'dish-elevation',
]

const spanOf = (sigmas: readonly number[]) => ({ least: Math.min(...sigmas), most: Math.max(...sigmas) })

export function measuredRows(record: StationRecord, solution: Solution): MeasuredRow[] {
  const solved = new Map(solution.sightings.map(s => [s.id, s]))
  const sightings = METHODS.flatMap((method): MeasuredRow[] => {
    const these = record.sightings.filter(s => s.method === method)
    if (these.length === 0) return []
    const told = these.flatMap(s => solved.get(s.id) ?? [])
    const of = (status: 'used' | 'outlier' | 'excluded') => told.filter(s => s.status === status)
    const used = of('used')
    return [
      {
        of: 'sightings',
        method,
        count: these.length,
        used: used.length,
        aside: of('outlier').length,
        excluded: of('excluded').length,
        sun: these.filter(s => s.target.type === 'sun').length,
        moon: these.filter(s => s.target.type === 'moon').length,
        sigmaDeg: used.length === 0 ? null : spanOf(used.map(s => s.sigmaDeg)),
      },
    ]
  })
  const levels = LEVELS.flatMap((what): MeasuredRow[] => {
    const these = (record.levels ?? []).filter(l => l.what === what)
    return these.length === 0
      ? []
      : [{ of: 'levels', what, count: these.length, sigmaDeg: spanOf(these.map(l => l.sigmaDeg)) }]
  })
  const count = record.references?.length ?? 0
  return [...sightings, ...levels, ...(count === 0 ? [] : [{ of: 'references' as const, count }])]
}

/** The records' own times, the earliest and the latest. */
function spanUtc(record: StationRecord): Report['measuredUtc'] {
  const times = [...record.sightings, ...(record.levels ?? []), ...(record.references ?? [])].map(r => r.utc)
  if (times.length === 0) return null
  const inOrder = times.sort((a, b) => msFromUtc(a) - msFromUtc(b))
  return { from: inOrder[0]!, to: inOrder.at(-1)! }
}

function carriedOf(record: StationRecord, feed: string, now: UtcMs, setupFromUtc: string | null): Report['carried'] {
  const last = lastCarried(alignmentOf(record.alignment), feed, now)
  return last === null
    ? null
    : {
        utc: last.utc,
        ...(last.note !== undefined && { note: last.note }),
        isAltered: setupFromUtc !== null && msFromUtc(setupFromUtc) > msFromUtc(last.utc),
      }
}

/** @param record  as it lies in the book, with what the solution does not need; @param nowUtc as it was asked for, echoed */
export function reportOf(answered: Answered, record: StationRecord, nowUtc: string): Report {
  const { solved, feed } = answered
  const { station } = solved
  const solution = solutionJson(answered, nowUtc)
  const now = msFromUtc(nowUtc)
  const { cells, worst } = landscapeOf(answered, now)
  const { site, dish, mount } = record
  return {
    format: 'moonplumb-report',
    version: 1,
    station: record.name,
    madeUtc: nowUtc,
    site,
    dish: { diameterM: dish.diameterM, focalRatio: dish.focalRatio, fed: dish.fed ?? 'prime-focus' },
    feed: { id: feed.id, name: feed.name, frequencyMHz: feed.frequencyMHz, beamwidthDeg: degFromRad(feed.hpbw) },
    mount,
    measured: measuredRows(record, solution),
    measuredUtc: spanUtc(record),
    // Another feed's place is in that feed's report.
    solution: {
      ...solution,
      parameters: solution.parameters.filter(p => p.feed === undefined || p.feed === feed.id),
    },
    allowedEchoLossDb: station.tolerance.echoLossDb,
    cells,
    worst: worst && { azDeg: worst.azDeg, elDeg: worst.elDeg },
    suspects: standing(record, solution.suspects),
    carried: carriedOf(record, feed.id, now, solution.setupFromUtc),
    changes: (record.changes ?? [])
      .filter(c => msFromUtc(c.utc) <= now)
      .sort((a, b) => msFromUtc(b.utc) - msFromUtc(a.utc))
      .map(({ utc, what, note }) => ({ utc, what, ...(note !== undefined && { note }) })),
  }
}

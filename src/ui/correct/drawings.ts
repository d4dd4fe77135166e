/** What the drawings of "Correct" are made from: solution and landscape put into the shapes that the plots take. Pure. */
import type { Landscape } from '../../core/plan/landscape.ts'
import type { WorthDoingJson } from '../../core/plan/worthjson.ts'
import type { SightingRecord, StationRecord } from '../../core/records/fieldbook.ts'
import type { Solution, SolvedSighting } from '../../core/records/solution.ts'
import type { BodyNow } from '../../state/sky.ts'
import { missOf } from '../kit/miss.ts'
import { worthHead } from '../kit/worthwords.ts'
import type { Residuals } from './residuals-geometry.ts'
import type { SkyDome } from './skydome-geometry.ts'
import type { SkyError } from './skyerror-geometry.ts'
import { sightingWords } from './words.ts'

/** A sighting with what the solution says of it; in the book's order, those that are both. */
export interface Judged {
  record: SightingRecord
  solved: SolvedSighting
  /** How far off, along the arc. */
  offDeg: number
}

export function judgedSightings(station: StationRecord, solution: Solution): Judged[] {
  const byId = new Map(solution.sightings.map(s => [s.id, s]))
  return station.sightings.flatMap(record => {
    const solved = byId.get(record.id)
    return solved ? [{ record, solved, offDeg: Math.hypot(solved.rightDeg, solved.upDeg) }] : []
  })
}

export const residualsOf = (judged: readonly Judged[], toleranceDeg: number, beamwidthDeg: number): Residuals => ({
  points: judged.map(({ record, solved }) => ({
    id: record.id,
    ...missOf(solved),
    sigmaDeg: solved.sigmaDeg,
    status: solved.status,
    label: sightingWords(record),
  })),
  toleranceDeg,
  beamwidthDeg,
})

export function domeOf(
  station: StationRecord,
  solution: Solution,
  landscape: Landscape,
  bodies: readonly BodyNow[],
  worth: WorthDoingJson | null,
): SkyDome {
  const judged = new Map(judgedSightings(station, solution).map(j => [j.record.id, j]))
  const next = worth?.steps.map(w => w.step).find(s => s.kind === 'sighting')
  const elevations = landscape.reach[0]?.length ?? 0
  return {
    paths: [
      { body: 'moon', label: 'Moon', points: landscape.moon },
      { body: 'sun', label: 'Sun', points: landscape.sun },
    ],
    reach: {
      azStepDeg: landscape.cellDeg,
      elStepDeg: landscape.cellDeg,
      rows: Array.from({ length: elevations }, (_, e) => landscape.reach.map(column => column[e] ?? false)),
    },
    // A station without a mask has a free horizon, not one at 0°.
    mask: (station.horizonMask ?? []).length === 0 ? [] : landscape.mask,
    sightings: landscape.sightings.flatMap(s => {
      const j = judged.get(s.id)
      return j && s.elDeg >= 0 ? [{ ...s, status: j.solved.status, label: sightingWords(j.record) }] : []
    }),
    now: bodies.map(b => ({
      azDeg: b.azDeg,
      elDeg: b.elDeg,
      body: b.body,
      label: b.body === 'sun' ? 'Sun' : 'Moon',
    })),
    next: next ? { azDeg: next.azDeg, elDeg: next.elDeg, label: worthHead(station.mount, next) } : null,
  }
}

export const skyErrorOf = (landscape: Landscape, allowedDb: number): SkyError => ({
  cells: landscape.cells.map(c => ({ column: c.third, row: c.half, beforeDb: c.beforeDb, afterDb: c.afterDb })),
  allowedDb,
})

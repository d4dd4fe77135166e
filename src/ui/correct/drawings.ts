/** What the drawings of "Correct" are made from: solution and landscape put into the shapes that the plots take. Pure. */
import { isBeamOffTarget } from '../../core/dish/optics.ts'
import type { CampaignJson } from '../../core/plan/campaignjson.ts'
import type { Landscape } from '../../core/plan/landscape.ts'
import type { WorthDoingJson } from '../../core/plan/worthjson.ts'
import type { SightingRecord, StationRecord } from '../../core/records/fieldbook.ts'
import { instantMs } from '../../core/records/instant.ts'
import type { Solution, SolvedSighting } from '../../core/records/solution.ts'
import { MINUTE_MS } from '../../core/units.ts'
import type { BodyNow } from '../../state/sky.ts'
import { utcTime } from '../kit/format.ts'
import { missOf } from '../kit/miss.ts'
import { worthHead } from '../kit/worthwords.ts'
import type { Residuals } from './residuals-geometry.ts'
import type { SkyDome } from './skydome-geometry.ts'
import type { SkyErrorPicture } from './skyerror-geometry.ts'
import { sightingWords } from './words.ts'

/** A sighting with what the solution says of it; only those that both have. */
export interface JudgedSighting {
  record: SightingRecord
  solved: SolvedSighting
  /** How far off, along the arc. */
  offDeg: number
}

export function judgedSightings(station: StationRecord, solution: Solution): JudgedSighting[] {
  const byId = new Map(solution.sightings.map(s => [s.id, s]))
  return station.sightings.flatMap(record => {
    const solved = byId.get(record.id)
    return solved ? [{ record, solved, offDeg: Math.hypot(solved.rightDeg, solved.upDeg) }] : []
  })
}

export const residualsOf = (
  judged: readonly JudgedSighting[],
  toleranceDeg: number,
  beamwidthDeg: number,
): Residuals => ({
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

/** Before the first sighting, where nothing else says where the beam points either: a miss everywhere would be a guess. */
export const isLossUnknown = ({ fit, sky }: Solution): boolean => fit.used === 0 && isBeamOffTarget(sky.echoLossP95Db)

/** The Moon moves a quarter of a degree in a minute: a drawing of the sky need not be made again every second. */
export const minuteOf = (bodies: readonly BodyNow[]): number => Math.floor((bodies[0]?.utcMs ?? 0) / MINUTE_MS)

/** The part of the sky that all its drawings share: today's paths, the reach, the horizon, Sun and Moon now. */
function groundOf(station: StationRecord, landscape: Landscape, bodies: readonly BodyNow[]): SkyDome {
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
    now: bodies.map(b => ({
      azDeg: b.azDeg,
      elDeg: b.elDeg,
      body: b.body,
      label: b.body === 'sun' ? 'Sun' : 'Moon',
    })),
  }
}

export function domeOf(
  station: StationRecord,
  solution: Solution,
  landscape: Landscape,
  bodies: readonly BodyNow[],
  worth: WorthDoingJson | null,
): SkyDome {
  const judged = new Map(judgedSightings(station, solution).map(j => [j.record.id, j]))
  const next = worth?.steps.map(w => w.step).find(s => s.kind === 'sighting')
  return {
    ...groundOf(station, landscape, bodies),
    sightings: landscape.sightings.flatMap(s => {
      const j = judged.get(s.id)
      return j && s.elDeg >= 0 ? [{ ...s, status: j.solved.status, label: sightingWords(j.record) }] : []
    }),
    next: next ? { azDeg: next.azDeg, elDeg: next.elDeg, label: worthHead(station.mount, next) } : null,
  }
}

/** The sky with what a sighting anywhere along the coming paths would bring, and those of today to make. */
export const aheadOf = (
  station: StationRecord,
  landscape: Landscape,
  bodies: readonly BodyNow[],
  campaign: CampaignJson,
): SkyDome => ({
  ...groundOf(station, landscape, bodies),
  beads: campaign.paths.flatMap(p => p.spots),
  steps: campaign.today.map(({ step }, k) => ({
    id: `step-${k}`,
    azDeg: step.azDeg,
    elDeg: step.elDeg,
    label: `${worthHead(station.mount, step)}, ${utcTime(instantMs(step.utc), 'minute')} UTC`,
  })),
})

export const skyErrorOf = (landscape: Pick<Landscape, 'cells'>, allowedDb: number): SkyErrorPicture => ({
  cells: landscape.cells.map(c => ({ column: c.third, row: c.half, beforeDb: c.beforeDb, afterDb: c.afterDb })),
  allowedDb,
})

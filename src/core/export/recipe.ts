/**
 * The recipe: everything needed to write a program for this mount. Three vectors, two readouts, the
 * equations both ways, ten worked points. Degrees, millimetres, counts; numbers to twelve digits, the same in JSON and in text.
 */
import { type Answered, solutionJson } from '../fit/solution.ts'
import { axesAt, lineAngles, lineInDish, lowerAxisTurn } from '../mount/asbuilt.ts'
import type { MountKind } from '../mount/names.ts'
import { SLOT } from '../mount/slots.ts'
import type { ParameterId, StationRecord } from '../records/fieldbook.ts'
import type { WhyNot } from '../records/solution.ts'
import { apply } from '../rotations.ts'
import { liftAtApparent, refractivity } from '../sky/refraction.ts'
import { type Deg, degFromRad, type Mm, radFromDeg } from '../units.ts'
import type { Vec3 } from '../vectors.ts'
import { type RecipeAxis, recipeAxisOf, tidy, tidyDeg } from './recipeaxis.ts'
import { type Equations, equationsOf } from './recipeequations.ts'
import { type CheckPoint, checkPointsOf } from './recipepoints.ts'

/** East, north, up. */
type Triple = [east: number, north: number, up: number]

export interface Recipe {
  format: 'moonplumb-recipe'
  version: 1
  station: string
  madeUtc: string
  /** The last change of the setup; null before any. */
  setupFromUtc: string | null
  feed: { id: string; name: string; frequencyMHz: number; beamwidthDeg: Deg }
  site: { latDeg: Deg; lonDeg: Deg; heightM: number }
  /** `rounds` of the refraction's iteration bring 1e-6° at the horizon. */
  air: { pressureHPa: number; temperatureC: number; humidityPct: number; refractivity: number; rounds: number }
  state: {
    within: boolean
    whyNot: WhyNot['kind'][]
    sightingsUsed: number
    moonHours: number
    toleranceDeg: Deg
    /** For 95 % of Moon time it is less, with 90 % confidence. */
    p95Deg: Deg
    echoLossP95Db: number
    allowedEchoLossDb: number
  }
  /** The mount on paper: Enu vectors with both true angles 0, before anything is off. */
  paper: {
    kind: MountKind
    headingDeg: Deg | null
    dishOffsetDeg: Deg | null
    lowerAxis: Triple
    upperAxis: Triple
    beam: Triple
    up: Triple
    /** Where the two leans of the lower axis go; null where heading and level turn it. */
    leansToward: [Triple, Triple] | null
    focalLengthMm: Mm
    beamDeviationFactor: number
  }
  /** What is off from paper; what is not listed is 0. */
  deviations: { id: ParameterId; label: string; value: number; sigma: number; unit: 'deg' | 'mm' | 'ratio' }[]
  /** The mount as built: what the equations need. `rounds` of the droop's iteration bring 1e-6°. */
  built: {
    lowerAxis: Triple
    upperAxis: Triple
    beam: Triple
    lowerSense: 1 | -1
    upperSense: 1 | -1
    droopDeg: Deg
    rounds: number
  }
  axes: { lower: RecipeAxis; upper: RecipeAxis }
  equations: Equations
  checkPoints: CheckPoint[]
}

const triple = (v: Vec3): Triple => [tidy(v[0]), tidy(v[1]), tidy(v[2])]
const tidied = <T extends object>(numbers: T): T =>
  Object.fromEntries(Object.entries(numbers).map(([k, v]) => [k, typeof v === 'number' ? tidy(v) : v])) as T

const ENOUGH = 1e-6
/** How many rounds of x = x0 + more(x), from x = x0, until it moves by no more than 1e-6°. */
function roundsOf(x0: Deg, more: (x: Deg) => Deg): number {
  let x = x0
  for (let n = 1; n < 100; n++) {
    const next = x0 + more(x)
    if (Math.abs(next - x) <= ENOUGH) return n
    x = next
  }
  return 100
}

const droopRounds = (droop: Deg): number =>
  droop === 0
    ? 0
    : Math.max(
        ...Array.from({ length: 19 }, (_, k) => roundsOf(5 * k, e => droop * Math.cos(radFromDeg(Math.min(90, e))))),
      )

/** @param nowUtc as it was asked for, echoed @param record  as it is now: the solution does not look at how the axes are driven */
export function recipeOf(answered: Answered, nowUtc: string, record: StationRecord): Recipe {
  const { built, feed, sky, solved } = answered
  const station = { ...solved.station, record }
  const { model, site } = station
  const { paper, kind } = model
  const solution = solutionJson(answered, nowUtc)
  const { R } = lowerAxisTurn(paper, built[SLOT.axisA]!, built[SLOT.axisB]!)
  const axes = axesAt(model, built, 0)
  const droopDeg = tidyDeg(lineAngles(model, built, 'beam').droop)
  const readouts = { lower: recipeAxisOf(station, built, 'lower'), upper: recipeAxisOf(station, built, 'upper') }
  const lift = (a: Deg): Deg => degFromRad(liftAtApparent(radFromDeg(a), site.air, 'radio'))
  return {
    format: 'moonplumb-recipe',
    version: 1,
    station: station.record.name,
    madeUtc: nowUtc,
    setupFromUtc: solution.setupFromUtc,
    feed: { id: feed.id, name: feed.name, frequencyMHz: feed.frequencyMHz, beamwidthDeg: tidyDeg(feed.hpbw) },
    site: { latDeg: tidyDeg(site.lat), lonDeg: tidyDeg(site.lon), heightM: site.heightM },
    air: {
      pressureHPa: tidy(site.air.pressureHPa),
      temperatureC: tidy(site.air.temperatureC),
      humidityPct: tidy(100 * site.air.humidity),
      refractivity: tidy(refractivity(site.air, 'radio')),
      rounds: roundsOf(0, lift),
    },
    state: {
      within: solution.sky.within,
      whyNot: solution.sky.whyNot.map(w => w.kind),
      sightingsUsed: solution.fit.used,
      moonHours: solution.sky.hours,
      toleranceDeg: tidy(solution.sky.toleranceDeg),
      p95Deg: tidy(solution.sky.after.p95Deg),
      echoLossP95Db: tidy(solution.sky.echoLossP95Db),
      allowedEchoLossDb: station.tolerance.echoLossDb,
    },
    paper: {
      kind,
      headingDeg: paper.headed ? tidyDeg(model.heading) : null,
      dishOffsetDeg: kind === 'az-over-el' ? tidyDeg(model.offset) : null,
      lowerAxis: triple(paper.a1),
      upperAxis: triple(paper.a2),
      beam: triple(paper.b0),
      up: triple(paper.u0),
      leansToward: paper.headed ? null : [triple(paper.d1), triple(paper.d2)],
      focalLengthMm: tidy(model.focalLength),
      beamDeviationFactor: tidy(model.bdf),
    },
    deviations: solution.parameters
      .filter(p => (p.feed === undefined || p.feed === feed.id) && !p.id.startsWith('tube'))
      .map(({ id, label, value, sigma, unit }) => ({ id, label, value: tidy(value), sigma: tidy(sigma), unit })),
    built: {
      lowerAxis: triple(axes.lower),
      upperAxis: triple(axes.upper),
      beam: triple(apply(R, lineInDish(model, built, 'beam'))),
      lowerSense: paper.s1,
      upperSense: paper.s2,
      droopDeg,
      rounds: droopRounds(droopDeg),
    },
    axes: readouts,
    equations: equationsOf(kind, paper.headed, readouts),
    checkPoints: checkPointsOf(
      station,
      built,
      sky.points.map(p => p.moon.direction),
    ).map(tidied),
  }
}

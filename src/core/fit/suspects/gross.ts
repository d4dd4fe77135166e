/**
 * Faults of the whole book: a reading that counts the other way, east and west swapped, both readings swapped. The plain fit
 * then rejects nearly everything or stands in a false place, so each is fitted from scratch; only where the fit is bad.
 */
import { type MountModel, modelOf } from '../../mount/asbuilt.ts'
import { AXIS_NAMES } from '../../mount/names.ts'
import { countingBack } from '../../readout/readout.ts'
import type { Axis, MountKind } from '../../records/fieldbook.ts'
import { reversedReadout } from '../../records/readouts.ts'
import type { Offer, SuspectKind } from '../../records/solution.ts'
import type { Problem } from '../map.ts'
import { sightingFromRecord } from '../observations.ts'
import { cost, type Fitted } from '../reject.ts'
import type { Sighting } from '../sighting.ts'
import { type Context, type Explanation, fitAfresh, fitOn, thinnedSightings } from './context.ts'

/** Both senses of an axis are possible from the start, but a whole book is rarely noted the wrong way. */
const PENALTY = 25
/** Sightings without which a turned sky is no evidence. */
const FEWEST = 4

const reversedModel = (model: MountModel, axis: Axis): MountModel =>
  modelOf({ ...model, [axis]: { ...model[axis], readout: countingBack(model[axis].readout) } })

/** The axis whose sign tells east from west. */
export const EAST_WEST: Record<MountKind, Axis> = {
  'el-over-az': 'lower',
  'ha-dec': 'lower',
  'az-over-el': 'upper',
  'x-y': 'lower',
}

/** What fitting from scratch on the (thinned) problem costs, and what the plain fit costs there. */
export interface Base {
  problem: Problem
  cost: number
  fit: Fitted
}

export function baseOf(ctx: Context): Base {
  const { problem, kept } = thinnedSightings(ctx)
  if (problem === ctx.problem) return { problem, cost: cost(ctx.fit), fit: ctx.fit }
  const fit = fitOn(problem, ctx.fit.values, kept)
  return { problem, cost: cost(fit), fit }
}

const senseOffer = (ctx: Context, axis: Axis): Offer => {
  const { record, model } = ctx.station
  const { readout } = record.mount[axis]
  const turned = reversedReadout(readout)
  if (turned !== null) return { type: 'readout', axis, readout: turned }
  return { type: 'mirror', axis, about: model.kind === 'el-over-az' && axis === 'lower' ? 360 : 0 }
}

const EAST_WEST_WORDS: Record<MountKind, string> = {
  'el-over-az': 'azimuths go the other way round: what was noted as east of south or north was west of it',
  'ha-dec': 'hour angles have the other sign: what was noted as east of the meridian was west of it',
  'az-over-el': 'swings have the other sign: what was noted as right was left',
  'x-y': 'X has the other sign: what was noted as a tip to the right was one to the left',
}

/** Sense of an axis, also reported as east and west swapped where that is what its sign means. */
export function sensesOf(ctx: Context, axis: Axis, base: Base = baseOf(ctx)): Explanation[] {
  const { station } = ctx
  const { problem } = base
  const model = reversedModel(problem.model, axis)
  const turned: Problem = { ...problem, model, sightings: problem.sightings.map(s => sidesTurned(s, axis)) }
  const fit = fitAfresh(turned)
  const gain = base.cost - cost(fit)
  const name = AXIS_NAMES[station.model.kind][axis]
  const one = (kind: SuspectKind, text: string, settle: string, penalty: number): Explanation => ({
    kind,
    problem: turned,
    fit,
    gain,
    penalty,
    suspect: { text, settle, axis, offer: senseOffer(ctx, axis) },
  })
  const isDegrees = station.model[axis].readout.type === 'degrees'
  const isEastWest = EAST_WEST[station.model.kind] === axis
  // A counter's sense comes from its wiring; a scale in degrees was read by a person.
  const sense = one(
    'reading-sense',
    `The ${name} axis counts the other way round: by the sightings, a larger reading turns it backward.`,
    `Drive the ${name} axis a few degrees up by its reading and see which way the dish goes.`,
    PENALTY + (isDegrees && isEastWest ? 1 : 0),
  )
  if (!isEastWest) return [sense]
  return [
    sense,
    one(
      'east-west-swapped',
      `East and west are swapped: by the sightings, the ${EAST_WEST_WORDS[station.model.kind]}.`,
      `Sight the Sun in the morning and again in the afternoon, and see which way the ${name} reading goes.`,
      PENALTY + (isDegrees ? 0 : 1),
    ),
  ]
}

const sidesTurned = (s: Sighting, axis: Axis): Sighting =>
  axis === 'lower'
    ? { ...s, lowerSide: -s.lowerSide as Sighting['lowerSide'] }
    : { ...s, upperSide: -s.upperSide as Sighting['upperSide'] }

/** A sighting with both readings swapped; null where the other axis has no such reading. */
function swappedSighting(ctx: Context, s: Sighting): Sighting | null {
  const { record } = s
  try {
    const swapped = sightingFromRecord(ctx.station, ctx.problem.parameters, {
      ...record,
      lower: record.upper,
      upper: record.lower,
    })
    return { ...swapped, slots: s.slots }
  } catch {
    // Outside the other jack's triangle: then they were not swapped.
    return null
  }
}

function swapped(ctx: Context, base: Base): Explanation[] {
  const sightings = base.problem.sightings.map(s => swappedSighting(ctx, s))
  const able = sightings.filter(s => s !== null)
  if (able.length < Math.max(FEWEST, 0.7 * sightings.length)) return []
  const problem: Problem = { ...base.problem, sightings: sightings.map((s, k) => s ?? base.problem.sightings[k]!) }
  const fit = fitAfresh(problem)
  const names = AXIS_NAMES[ctx.station.model.kind]
  return [
    {
      kind: 'readings-swapped',
      problem,
      fit,
      gain: base.cost - cost(fit),
      penalty: PENALTY,
      suspect: {
        text: `The two readings are swapped: what was noted as ${names.lower} is the ${names.upper} axis, and the reverse.`,
        settle: `Read both axes again now, and compare with what is noted as ${names.lower} and as ${names.upper}.`,
        offer: {
          type: 'sightings',
          set: ctx.problem.sightings.map(({ record }) => ({ id: record.id, lower: record.upper, upper: record.lower })),
        },
      },
    },
  ]
}

export function grossFaults(ctx: Context): Explanation[] {
  if (!ctx.isDesperate || ctx.problem.sightings.length < FEWEST) return []
  const base = baseOf(ctx)
  return [...sensesOf(ctx, 'lower', base), ...sensesOf(ctx, 'upper', base), ...swapped(ctx, base)]
}

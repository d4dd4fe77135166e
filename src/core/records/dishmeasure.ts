/**
 * What was taped on a dish, kept with the station beside what follows from it: diameter and depth, rim to feed, crossed
 * strings. Millimetres as measured, with the side from which the person looked; nothing here is computed.
 */
import * as v from 'valibot'
import { list, measure, notNegative, object, oneOf, positive, text, utc, within } from './shapes.ts'

export interface RimRecord {
  utc: string
  feed: string
  seenFrom: 'behind' | 'front'
  /** Hours on the dial as seen from there, 12 at the UP mark. */
  distances: { clock: number; mm: number }[]
  /** 1 σ of one distance; 2 mm where the person says nothing. */
  sigmaMm?: number
  /** Measured to the near edge of a round mouth this wide; none: to its centre. */
  mouthDiameterMm?: number
  /** The phase centre lies so far beyond the mouth, away from the dish. */
  phaseCentreMm?: number
  note?: string
}

export interface StringsRecord {
  utc: string
  pair: 'upright' | 'diagonal'
  /** The diagonal pair's first string runs from half past one to half past seven as seen from here. */
  seenFrom: 'behind' | 'front'
  /** With the first string (through 12, or half past one) nearest to someone in front of the dish; 0: they press. */
  firstInFrontMm: number
  firstBehindMm: number
}

export interface DishMeasuresRecord {
  utc: string
  diameterMm?: number
  depthMm?: number
  /** 1 σ of diameter and of depth; 2 mm where the person says nothing. */
  sigmaMm?: number
  rims?: RimRecord[]
  strings?: StringsRecord[]
}

const opt = v.optional

const RimSchema = object({
  utc: utc(),
  feed: text(),
  seenFrom: oneOf(['behind', 'front']),
  distances: list(object({ clock: within(0, 12), mm: positive(1e5) })),
  sigmaMm: opt(positive(1000)),
  mouthDiameterMm: opt(notNegative(1e5)),
  phaseCentreMm: opt(measure()),
  note: opt(text()),
})

const StringsSchema = object({
  utc: utc(),
  pair: oneOf(['upright', 'diagonal']),
  seenFrom: oneOf(['behind', 'front']),
  firstInFrontMm: notNegative(1e4),
  firstBehindMm: notNegative(1e4),
})

export const DishMeasuresSchema = object({
  utc: utc(),
  diameterMm: opt(positive(1e5)),
  depthMm: opt(positive(1e5)),
  sigmaMm: opt(positive(1000)),
  rims: opt(list(RimSchema)),
  strings: opt(list(StringsSchema)),
})

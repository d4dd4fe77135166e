/**
 * What was taped on a dish, kept with the station beside what follows from it: diameter and depth, rim to feed, crossed
 * strings. Millimetres as measured, with the side from which the person looked; nothing here is computed.
 */
import { RANGES } from '../ranges.ts'
import { list, measure, object, oneOf, opt, positive, text, utc, within } from '../shapes.ts'

const seenFrom = () => oneOf(['behind', 'front'])
const taped = () => positive(RANGES.tapeMm)
/** 1 σ of one distance; 2 mm where the person says nothing. */
const sigmaMm = () => opt(positive(RANGES.tapeSigmaMm))

export const RimSchema = object({
  utc: utc(),
  feed: text(),
  seenFrom: seenFrom(),
  /** Hours on the dial as seen from there, 12 at the UP mark. */
  distances: list(object({ clock: within(RANGES.clock), mm: taped() })),
  sigmaMm: sigmaMm(),
  /** Measured to the near edge of a round mouth this wide; none: to its centre. */
  mouthDiameterMm: opt(within(RANGES.mouthMm)),
  /** The phase centre lies so far beyond the mouth, away from the dish. */
  phaseCentreMm: opt(measure()),
  note: opt(text()),
})

export const StringsSchema = object({
  utc: utc(),
  pair: oneOf(['upright', 'diagonal']),
  /** The diagonal pair's first string runs from half past one to half past seven as seen from here. */
  seenFrom: seenFrom(),
  /** With the first string (through 12, or half past one) nearest to someone in front of the dish; 0: the strings press on each other. */
  firstInFrontMm: within(RANGES.stringsMm),
  firstBehindMm: within(RANGES.stringsMm),
})

export const DishMeasuresSchema = object({
  utc: utc(),
  diameterMm: opt(taped()),
  depthMm: opt(taped()),
  sigmaMm: sigmaMm(),
  rims: opt(list(RimSchema)),
  strings: opt(list(StringsSchema)),
})

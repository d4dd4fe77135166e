/**
 * Units as types. A flavoured number takes a plain number (arithmetic stays light) but refuses another unit:
 * a `Deg` cannot be passed where a `Rad` is wanted. Degrees live in records and on screens; the core works in radians.
 */

declare const unit: unique symbol
type Flavour<U extends string> = number & { readonly [unit]?: U }

export type Rad = Flavour<'rad'>
export type Deg = Flavour<'deg'>
export type Mm = Flavour<'mm'>
export type Metres = Flavour<'m'>
export type MHz = Flavour<'MHz'>
/** Milliseconds since 1970-01-01T00:00:00Z, UTC. */
export type UtcMs = Flavour<'utc-ms'>

export const MINUTE_MS = 60_000
export const HOUR_MS = 60 * MINUTE_MS
export const DAY_MS = 24 * HOUR_MS
export const HOUR_S = 3600

export const MM_PER_INCH = 25.4

/** A degree, radians. */
export const DEG: Rad = Math.PI / 180

/** Radians from degrees: for records and wishes as they come in, and for constants. */
export const radFromDeg = (deg: Deg): Rad => deg * DEG

/** Degrees from radians: for answers as they leave the core. */
export const degFromRad = (rad: Rad): Deg => rad / DEG

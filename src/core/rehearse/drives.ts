/**
 * An axis with its two buttons: the drive runs at its speed while a button is held, runs on a little after release, and halts at
 * its stops; the axis trails the drive by its slack. Readings are those of a counter that has lost no count; seconds.
 */

export interface Drive {
  /** Readings a second while it runs, > 0. */
  readingsPerS: number
  /** Readings that it runs on after release, ≥ 0. */
  overrun: number
  /** The real stops, which the paper may have elsewhere. */
  low: number
  high: number
  /** Slack between drive and axis, in readings, ≥ 0. */
  slack: number
}

export interface DriveState {
  /** The reading of a counter that has lost no count. */
  at: number
  /** Which button is held. */
  held: -1 | 0 | 1
  /** Readings a second, with its sign. */
  speed: number
  /** Where the axis is in its slack: 1 after driving up, -1 after driving down. */
  side: number
}

export const still = (at: number, side = 0): DriveState => ({ at, held: 0, speed: 0, side })
export const isMoving = (s: DriveState): boolean => s.held !== 0 || s.speed !== 0

/** A button is pressed, or released (0). The motor reverses at once. */
export const pressed = (d: Drive, s: DriveState, held: -1 | 0 | 1): DriveState => ({
  ...s,
  held,
  speed: held === 0 ? s.speed : held * d.readingsPerS,
})

/** The state after a time. @param seconds ≥ 0 */
export function driven(d: Drive, s: DriveState, seconds: number): DriveState {
  if (!(seconds >= 0)) throw new RangeError(`driven: seconds must be >= 0, got ${seconds}`)
  let way: number
  let { speed } = s
  if (s.held !== 0) {
    speed = s.held * d.readingsPerS
    way = speed * seconds
  } else if (speed === 0 || d.overrun === 0) {
    way = 0
    speed = 0
  } else {
    // Even braking that comes to rest after the overrun: v²/2a.
    const braking = d.readingsPerS ** 2 / (2 * d.overrun)
    const time = Math.min(seconds, Math.abs(speed) / braking)
    way = Math.sign(speed) * (Math.abs(speed) * time - (braking * time * time) / 2)
    speed = Math.sign(speed) * Math.max(0, Math.abs(speed) - braking * seconds)
  }
  const free = s.at + way
  const at = Math.min(d.high, Math.max(d.low, free))
  const moved = at - s.at
  if (at !== free) speed = 0
  const side = moved === 0 ? s.side : d.slack === 0 ? Math.sign(moved) : s.side + (2 * moved) / d.slack
  return { at, held: s.held, speed, side: Math.min(1, Math.max(-1, side)) }
}

/** The stop that it is at; null: none. */
export const stopOf = (d: Drive, s: DriveState): 'low' | 'high' | null =>
  s.at <= d.low ? 'low' : s.at >= d.high ? 'high' : null

/**
 * An axis under its two buttons: the drive runs at its speed while a button is held, runs on a little when it is let go, and
 * stops at its stops; the counter counts it, and may have lost some; the axis trails the drive by its slack. Readings of a counter
 * that never lost one, seconds.
 */

export interface Drive {
  /** Readings a second while it runs, > 0. */
  readingsPerS: number
  /** Readings that it runs on once it is let go, ≥ 0. */
  overrun: number
  /** Where it really stops. */
  low: number
  high: number
  /** Slack between drive and axis, in readings, ≥ 0. */
  slack: number
}

export interface DriveState {
  /** What a counter would show that counts everything. */
  at: number
  /** Which button is held. */
  held: -1 | 0 | 1
  /** Readings a second, with its sign. */
  speed: number
  /** Where in its slack the axis lies: 1 after a way upward, -1 after one downward. */
  side: number
}

export const still = (at: number, side = 0): DriveState => ({ at, held: 0, speed: 0, side })
export const isMoving = (s: DriveState): boolean => s.held !== 0 || s.speed !== 0

/** A button is pressed, or let go (0). The motor turns round at once. */
export const pressed = (d: Drive, s: DriveState, held: -1 | 0 | 1): DriveState => ({
  ...s,
  held,
  speed: held === 0 ? s.speed : held * d.readingsPerS,
})

/** So many seconds later. */
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
    // Braked evenly, so that it comes to rest after the overrun: v²/2a.
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

/** Which stop it stands at; null: none. */
export const stopOf = (d: Drive, s: DriveState): 'low' | 'high' | null =>
  s.at <= d.low ? 'low' : s.at >= d.high ? 'high' : null

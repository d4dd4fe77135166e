/**
 * The robot at the dish at hand: it drives by typed readings, listens, finds Sun and Moon and peaks on them. What it knows beforehand is
 * what a practitioner knows: how wide such a beam is, and how a peak is taken.
 */
import { rings } from '../helpers/rings.ts'
import { type Act, type Hands, number } from './hands.ts'

export type Body = 'Sun' | 'Moon'
/** Readings of both axes, degrees: a beginner's dish has dials. */
export type Pair = readonly [number, number]

/** The beamwidth of 3 m at 1.3 GHz, 70 λ/D, degrees. */
export const BEAM_DEG = 5.4
/** Above cold sky, or above the noise, dB: then it is in the beam. */
const HEARD: Readonly<Record<Body, number>> = { Sun: 3, Moon: 2 }
const RINGS = 4
/** Where no echo is heard, dB. */
const NO_ECHO = -3

/** Axes to readings as typed, each by the name of its axis, or else the first and the second; undefined leaves one where it is. */
export const driving = (at: readonly (string | undefined)[], axes?: readonly string[]): Act[] => [
  { press: 'Drive', on: 'sheet' },
  ...at.flatMap((text, k): Act[] =>
    text === undefined
      ? []
      : [{ write: `Or drive to: ${axes?.[k] ?? '.+'}`, nth: axes === undefined ? k : 0, text, on: 'sheet' }],
  ),
  { press: 'Drive there', on: 'sheet' },
]

export class Dish {
  looks = 0
  private cold = Number.POSITIVE_INFINITY

  constructor(
    private readonly hands: Hands,
    private readonly axes: readonly [string, string],
  ) {}

  /** Both axes to readings, as typed; a part of the same row of presses. */
  private driving(at: Pair): Act[] {
    return driving(
      at.map(deg => deg.toFixed(1)),
      this.axes,
    )
  }

  private showing(): Act[] {
    return this.axes.map(name => ({ read: name, on: 'sheet' as const }))
  }

  /** What the receiver says there, dB; null where the drives do not reach it. */
  private async hear(body: Body, at: Pair): Promise<number | null> {
    this.looks++
    const said = await this.hands(
      ...this.driving(at),
      { press: 'Receiver', on: 'sheet' },
      ...(body === 'Moon' ? [{ pick: '10 s', on: 'sheet' } as const] : []),
      body === 'Sun'
        ? { read: 'Noise level', on: 'sheet' }
        : { see: 'No echoes heard|Own echoes ([−\\d.]+) dB', on: 'sheet' },
      ...this.showing(),
    )
    const [level, ...shown] = said as [string, string, string]
    if (shown.some((text, k) => Math.abs(number(text) - at[k]!) > 0.2)) return null
    if (body === 'Moon') return level.startsWith('No') ? NO_ECHO : number(level)
    const db = number(level)
    this.cold = Math.min(this.cold, db)
    return db
  }

  /** Steps of both axes that move the beam by as much: the lower one's arc is smaller where the upper one leads away from it. */
  private steps(at: Pair, deg: number): [number, number] {
    return [deg / Math.max(0.3, Math.cos((at[1] * Math.PI) / 180)), deg]
  }

  /** Where something is heard at all: there, then round and round. Low down it may be the ground. */
  async *find(body: Body, from: Pair): AsyncGenerator<Pair> {
    if (body === 'Sun' && this.cold === Number.POSITIVE_INFINITY)
      await this.hear(body, [from[0], from[1] > 40 ? from[1] - 30 : from[1] + 30])
    const step = this.steps(from, 0.7 * BEAM_DEG)
    for (const [i, j] of rings(RINGS)) {
      const at: Pair = [from[0] + i * step[0], from[1] + j * step[1]]
      const level = await this.hear(body, at)
      if (level !== null && level - (body === 'Sun' ? this.cold : 0) > HEARD[body]) yield at
    }
  }

  /** What the body alone brings, dB: of the Sun's noise the cold sky is taken off. */
  private alone(body: Body, level: number): number {
    if (body === 'Moon') return level
    return 10 * Math.log10(Math.max(0.01, 10 ** (level / 10) - 10 ** (this.cold / 10)))
  }

  /**
   * Along each axis three levels, half a beam apart: the top of the parabola through them. Again, until it hardly moves.
   *
   * @returns whether it stands on a peak: not where it is the ground that grows louder; 'stop': where a stop is in the way
   */
  async peak(body: Body, from: Pair): Promise<boolean | 'stop'> {
    const at: [number, number] = [from[0], from[1]]
    let isPeak = true
    for (let round = 0; round < 4; round++) {
      let isDone = true
      isPeak = true
      for (const axis of [0, 1] as const) {
        const step = this.steps(at, 0.45 * BEAM_DEG)[axis]
        const three: number[] = []
        for (const k of [-1, 0, 1]) {
          const there: [number, number] = [...at]
          there[axis] += k * step
          const level = await this.hear(body, there)
          if (level === null) return 'stop'
          three.push(this.alone(body, level))
        }
        const [a, b, c] = three as [number, number, number]
        // An echo that is lost in the noise has no level.
        if (body === 'Moon' && Math.min(a, b, c) < 0.5) isDone = false
        const bend = a - 2 * b + c
        if (bend >= -1) isPeak = false
        const by = bend < -1 ? Math.max(-1.3, Math.min(1.3, (a - c) / (2 * bend))) : a > c ? -1 : 1
        if (Math.abs(by) > 0.4) isDone = false
        at[axis] += by * step
      }
      if (isDone) break
    }
    await this.hands(...this.driving(at))
    return isPeak
  }

  /** To where the book thinks that it stands; null where that is not offered. */
  async follow(body: Body): Promise<Pair | null> {
    const way: Act = { press: `Drive to the ${body} as computed`, on: 'sheet', within: 8000 }
    try {
      const said = await this.hands({ press: 'Drive', on: 'sheet' }, way, ...this.showing())
      return [number(said[0]!), number(said[1]!)]
    } catch {
      return null
    }
  }
}

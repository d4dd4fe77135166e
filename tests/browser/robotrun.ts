/**
 * A robot at the person's place: a rehearsal from the first screen until the app says that the mount is within tolerance, then the
 * truth. It knows what a practitioner knows (how a peak is taken, that a beam is some degrees wide) and does what the app says is worth
 * doing next; of the dish it learns by the dish at hand alone.
 */
import type { Page } from '@playwright/test'
import type { MountKind } from '../../src/core/records/fieldbook.ts'
import { type Act, AWAY, act, type Hands, OPEN } from './hands.ts'
import { BEAM_DEG, type Body, Dish, type Pair } from './robotdish.ts'
import { writeDown, writeLevel } from './robotforms.ts'

/** What a plate of the first screen says, and what both axes are called. */
const MOUNTS: Readonly<Record<MountKind, { plate: string; axes: readonly [string, string] }>> = {
  'el-over-az': { plate: 'Azimuth and elevation', axes: ['azimuth', 'elevation'] },
  'ha-dec': { plate: 'Polar: hour angle and declination', axes: ['hour angle', 'declination'] },
  'az-over-el': { plate: 'Tilt, then swing', axes: ['tilt', 'swing'] },
  'x-y': { plate: 'X and Y', axes: ['X', 'Y'] },
}
export const PLATES = Object.keys(MOUNTS) as MountKind[]

export interface RobotRun {
  kind: MountKind
  seed: number
  /** The app said "within"; else why it did not come to that. */
  within: boolean
  why: string
  sightings: number
  levels: number
  /** Levels of the receiver that were looked at. */
  looks: number
  /** Of the rehearsal's clock. */
  minutes: number
  /** On own echoes, degrees at most in 95 % of the Moon's time: claimed, and really left. */
  claimedDeg: number
  trueDeg: number
  /** Loss left over loss claimed. */
  ratio: number
  /** As the screen of the truth says it: the claim holds. */
  holds: boolean
  /** The loss really left is within what is allowed. */
  trulyWithin: boolean
}

const HOUR = 3_600_000
const DAY = 24 * HOUR
/** Own echoes lose so much at a whole beamwidth, twice 12.04 dB, and by its square. */
const ECHO_DB = 24.08
const MOST = { sightings: 16, rounds: 30, failures: 8 }

const pause = (ms: number): Promise<void> => new Promise(resolve => setTimeout(resolve, ms))
/** "15 Mar 2027" or "2027-03-15", and a time: Unix ms. */
const instant = (day: string, time: string): number => Date.parse(`${day} ${time} UTC`)

class Robot {
  sightings = 0
  levels = 0
  /** What may be lost on own echoes, as Now says it, dB. */
  private allowedDb = Number.NaN
  private readonly hands: Hands
  private readonly dish: Dish

  constructor(
    page: Page,
    private readonly kind: MountKind,
    private readonly seed: number,
  ) {
    this.hands = (...acts) => act(page, ...acts)
    this.dish = new Dish(this.hands, MOUNTS[kind].axes)
  }

  async begin(): Promise<void> {
    await this.hands(
      { press: 'Rehearse with a dish that does not exist', on: 'screen' },
      { pick: MOUNTS[this.kind].plate, on: 'screen' },
      { pick: 'First time.*', on: 'screen' },
      { write: 'Number of the dish', text: String(this.seed), on: 'screen' },
      { write: 'The rehearsal starts at', text: '2027-03-15 10:00', on: 'screen' },
      { press: 'Begin the rehearsal', on: 'screen' },
      { see: 'Rehearsal: this dish does not exist', on: 'screen' },
      { press: 'Leave the walk-through', on: 'screen' },
    )
  }

  /** What Now says, once it takes all that was kept into account: within, or what is worth doing next. */
  async look(): Promise<{ within: boolean; advice: string }> {
    await this.hands(AWAY, { press: 'Now', on: 'screen' }, { see: 'From \\d+ sighting|No sightings yet', on: 'screen' })
    for (const began = Date.now(); ; await pause(100)) {
      const [said = ''] = await this.hands({ see: '.*', on: 'screen' })
      this.allowedDb = Number(/allowed ([\d.]+)/.exec(said)?.[1] ?? this.allowedDb)
      const [, used, aside] = /From (\d+) sightings?(?:, (\d+) set aside)?/.exec(said) ?? []
      const isWhole = Number(used ?? 0) + Number(aside ?? 0) === this.sightings && !said.includes('Computing…')
      if (isWhole && said.includes('Good: within what you allow.')) return { within: true, advice: '' }
      const [, advice] = /Worth doing next (.*)/.exec(said) ?? []
      if (isWhole && advice !== undefined) return { within: false, advice }
      // It is worked out after the verdict; where it stays away, nothing is left that would show.
      if (isWhole && Date.now() - began > 20_000) return { within: false, advice: '' }
      if (Date.now() - began > 60_000) throw new Error(`Now does not come to an end: ${said}`)
    }
  }

  /** Lets the clock go on to shortly before or just after an instant that the advice names. */
  async waitFor(advice: string): Promise<void> {
    const [, day, time] = /(today|tomorrow|\d+ \w+ \d{4}) (\d\d:\d\d) UTC/.exec(advice) ?? []
    if (day === undefined || time === undefined) return
    const now = await this.clock()
    const today = new Date(now).toISOString().slice(0, 10)
    const at =
      day === 'today' ? instant(today, time) : day === 'tomorrow' ? instant(today, time) + DAY : instant(day, time)
    const days = Math.max(0, Math.floor((at - now) / DAY))
    const hours = Math.max(0, Math.ceil((at - now - days * DAY) / HOUR - 0.25))
    await this.goOn(days, hours)
  }

  async goOn(days: number, hours: number): Promise<void> {
    await this.hands(
      { press: 'Book', on: 'screen' },
      OPEN,
      { press: 'Time', on: 'sheet' },
      ...Array<Act>(days).fill({ press: 'To this time tomorrow', on: 'sheet' }),
      ...Array<Act>(hours).fill({ press: 'An hour on', on: 'sheet' }),
    )
  }

  /** What the rehearsal's clock shows, Unix ms. */
  private async clock(): Promise<number> {
    const [said] = await this.hands(
      OPEN,
      { press: 'Time', on: 'sheet' },
      {
        see: '(\\d+ \\w+ \\d{4}, \\d\\d:\\d\\d:\\d\\d) UTC',
        on: 'sheet',
      },
    )
    const [day, time] = said!.split(', ')
    return instant(day!, time!)
  }

  /** Found, peaked and written down. @returns whether it was heard */
  async sight(body: Body): Promise<boolean> {
    // On a screen that works nothing out, so that a slow machine is not asked again with every move.
    await this.hands({ press: 'Book', on: 'screen' }, OPEN)
    const from = await this.dish.follow(body)
    if (from === null || !(await this.peaked(body, from))) return false
    await this.hands({ press: 'Sight', on: 'screen' }, { pick: body, on: 'screen' })
    await writeDown(this.hands, MOUNTS[this.kind].axes, body)
    this.sightings++
    return true
  }

  private async peaked(body: Body, from: Pair): Promise<boolean> {
    for await (const found of this.dish.find(body, from)) {
      const isPeak = await this.dish.peak(body, found)
      // Near a stop it waits for the sky to turn on.
      if (isPeak !== false) return isPeak === true
    }
    return false
  }

  /** A level as advised, on the screen that the advice leads to. */
  async level(advice: string): Promise<void> {
    await this.hands(AWAY, { press: 'Now', on: 'screen' }, { press: 'Worth doing next.*', on: 'screen' }, OPEN)
    await writeLevel(this.hands, MOUNTS[this.kind].axes, advice)
    this.levels++
  }

  /** The truth as its screen says it. */
  async truth(why: string): Promise<RobotRun> {
    const [left, claimed, time, verdict] = await this.hands(
      OPEN,
      { press: 'Time', on: 'sheet' },
      { press: 'Finish: see the truth', on: 'sheet' },
      { read: 'Really lost, both ways, at most, in 95 % of the Moon time', on: 'screen' },
      { read: 'Claimed', on: 'screen' },
      { read: 'Rehearsal time', on: 'screen' },
      { see: 'What the app claimed holds|More is lost than the app claimed|did not call it', on: 'screen' },
    )
    const deg = (text: string) => Number(/\(([\d.]+)°\)/.exec(text)?.[1])
    const [claimedDeg, trueDeg] = [deg(claimed!), deg(left!)]
    const units: Record<string, number> = { d: 1440, h: 60, min: 1, s: 1 / 60 }
    const minutes = [...time!.matchAll(/(\d+) (d|h|min|s)\b/g)].reduce((a, m) => a + Number(m[1]) * units[m[2]!]!, 0)
    const { kind, seed, sightings, levels } = this
    return {
      kind,
      seed,
      within: why === '',
      why,
      sightings,
      levels,
      looks: this.dish.looks,
      minutes: Math.round(minutes),
      claimedDeg,
      trueDeg,
      ratio: Number(((trueDeg / claimedDeg) ** 2).toFixed(3)),
      holds: verdict!.startsWith('What'),
      trulyWithin: trueDeg <= BEAM_DEG * Math.sqrt(this.allowedDb / ECHO_DB),
    }
  }
}

/**
 * @param page  on an empty phone, its first screen open
 * @returns  how it came out; it ends where the app says "within", or beyond so many sightings, rounds and bodies not heard
 */
export async function robotRun(page: Page, kind: MountKind, seed: number): Promise<RobotRun> {
  const robot = new Robot(page, kind, seed)
  await robot.begin()
  let failures = 0
  for (let round = 0; ; round++) {
    const { within, advice } = await robot.look()
    if (within) return robot.truth('')
    if (robot.sightings >= MOST.sightings || round >= MOST.rounds || failures >= MOST.failures)
      return robot.truth(`${failures} bodies not heard, ${round} rounds; advised last: ${advice}`)
    if (/^Measure .* with a level/.test(advice)) await robot.level(advice)
    else {
      await robot.waitFor(advice)
      // A shadow or a drift of the Sun is a Sun to peak; where something else is advised, what is up is sighted.
      const bodies: Body[] = advice.startsWith('Sun') ? ['Sun'] : advice.startsWith('Moon') ? ['Moon'] : ['Moon', 'Sun']
      let isHeard = false
      for (const body of bodies) isHeard ||= await robot.sight(body)
      if (!isHeard) {
        failures++
        await robot.goOn(0, 1)
      }
    }
  }
}

/**
 * What is wrong with the dish, by difficulty. Beginner: three plain faults and nothing else. Ordinary: every deviation drawn from
 * its prior at half its width, cut at two σ. Hard: drawn wider, and with a feed far off, lost motion, a storm, a slipped counter, a
 * wrong clock and a stop that is not where the paper says.
 * Degrees, ratios, millimetres, counts, as in records.
 */
import { AXES } from '../mount/names.ts'
import type { ParameterEntry } from '../mount/parameterentry.ts'
import { knownEntry, sigmaOfEntry } from '../mount/parameters.ts'
import { PARAMETERS } from '../mount/parametertable.ts'
import { lowerAxisIds } from '../mount/slots.ts'
import type { Axis } from '../records/fieldbook.ts'
import { HOUR_MS } from '../units.ts'
import { type Paper, readoutAngleDeg, type Truth } from './mount.ts'
import type { Chance } from './seed.ts'
import type { Difficulty } from './setup.ts'

/** A deviation's id without its feed. */
const bare = (key: string): string => key.split(':')[0]!

/** Default prior σ of a deviation of this station, as the solution takes it. @throws RangeError  no such deviation */
export function deviationSigma(paper: Paper, id: string): number {
  const entry = knownEntry(id)
  if (entry === null) throw new RangeError(`deviationSigma: no parameter ${id}`)
  return sigmaOfEntry(entry, paper.mount)
}

const isOfReadout = ({ needs }: ParameterEntry): boolean => needs === 'jack' || needs === 'no-jack'

/** Whether a mount of this kind and with these readouts has it. */
const isHere = (paper: Paper, entry: ParameterEntry): boolean => {
  const { axis, kinds, needs } = entry
  return (
    (kinds?.includes(paper.mount.kind) ?? true) &&
    (axis === undefined || !isOfReadout(entry) || (needs === 'jack') === (paper.mount[axis].readout.type === 'jack'))
  )
}

/**
 * The ids that a station of this kind and readouts has, feeds' ones with their feed, in the order in which they are drawn: the
 * table's, but for a readout's, which stand axis by axis, and a feed's, feed by feed. A new entry makes other dishes of the same
 * numbers, also of rehearsals under way.
 */
export function idsOfTruth(paper: Paper): string[] {
  const here = (PARAMETERS as readonly ParameterEntry[]).filter(entry => isHere(paper, entry))
  const readouts = AXES.flatMap(axis => here.filter(entry => isOfReadout(entry) && entry.axis === axis))
  const feeds = here.filter(entry => entry.ofFeed)
  const firstReadout = here.findIndex(isOfReadout)
  const firstFeed = here.findIndex(entry => entry.ofFeed)
  return here.flatMap((entry, i) => {
    if (i === firstReadout) return readouts.map(({ id }) => id)
    if (i === firstFeed) return paper.feeds.flatMap(feed => feeds.map(({ id }) => `${id}:${feed.id}`))
    return isOfReadout(entry) || entry.ofFeed ? [] : [entry.id]
  })
}

/** Where the prior is wide open, what a person would still see by eye; σ, degrees. */
const BY_EYE: Readonly<Record<string, number>> = { heading: 6, lowerZero: 6, upperZero: 5 }

/** A deviation drawn from its narrowed prior, and no larger than would go unseen by eye. */
function drawn(c: Chance, paper: Paper, key: string, width: number): number {
  const id = bare(key)
  return c.normal(Math.min(width * deviationSigma(paper, id), BY_EYE[id] ?? Infinity), 2)
}

/** 1 where the angle grows with the reading, -1 where it falls. */
export function senseOf(paper: Paper, axis: Axis): 1 | -1 {
  const { minReading, maxReading } = paper.mount[axis]
  return readoutAngleDeg(paper, axis, maxReading) >= readoutAngleDeg(paper, axis, minReading) ? 1 : -1
}

/** Lost motion in the sense of the play parameter: the axis trails the drive, so it stays back on the side that it came from. */
const lag = (paper: Paper, axis: Axis, playDeg: number): number => -senseOf(paper, axis) * Math.abs(playDeg)

const away = (c: Chance, least: number, most: number): number => c.sign() * c.between(least, most)

/** Three faults of one number each: the lower axis, a zero, the feed. */
function drawBeginner(c: Chance, paper: Paper): Truth {
  const feed = paper.feeds[0]!.id
  const { kind } = paper.mount
  const first: Truth =
    kind === 'el-over-az'
      ? { [c.one(lowerAxisIds(kind))]: away(c, 1.2, 2.5) }
      : kind === 'ha-dec'
        ? { [c.one(lowerAxisIds(kind))]: away(c, 1.5, 3.5) }
        : { heading: away(c, 4, 8) }
  const second: Truth =
    kind === 'el-over-az' ? { lowerZero: away(c, 6, 14) } : { [c.one(['lowerZero', 'upperZero'])]: away(c, 2, 4) }
  return { ...first, ...second, [`${c.one(['feedRight', 'feedUp'])}:${feed}`]: away(c, 14, 24) }
}

function drawAll(c: Chance, paper: Paper, width: number): Truth {
  const truth: Truth = {}
  for (const key of idsOfTruth(paper)) {
    const value = drawn(c, paper, key, width)
    const { family, axis } = knownEntry(bare(key))!
    truth[key] = family === 'play' && axis !== undefined ? lag(paper, axis, value) : value
  }
  return truth
}

/** A counter that lost or gained counts at an instant. */
export interface Slip {
  axis: Axis
  fromMs: number
  counts: number
}
/** A stop that is not where the paper says. */
export interface WrongStop {
  axis: Axis
  end: 'low' | 'high'
  reading: number
}

export interface Faults {
  /** The mount from each instant on, true Unix ms. */
  truths: { fromMs: number; truth: Truth }[]
  /** What the clock shows, minus the true time, seconds. */
  clockErrorS: number
  slip: Slip | null
  wrongStop: WrongStop | null
  /** When the storm came; null: none. */
  stormMs: number | null
  /** A feed farther off the axis than a hand would leave it: how it was when the rehearsal began. */
  feedOff: { feed: string; rightMm: number } | null
  /** A drive with more lost motion than one should have. */
  backlash: { axis: Axis; deg: number } | null
}

/** One count of an axis in degrees, at a reading. */
export const degPerReading = (paper: Paper, axis: Axis, reading: number): number =>
  Math.abs(readoutAngleDeg(paper, axis, reading + 0.5) - readoutAngleDeg(paper, axis, reading - 0.5))

/** A storm turns the lower axis by two to four degrees. */
function afterStorm(c: Chance, paper: Paper, truth: Truth): Truth {
  const id = lowerAxisIds(paper.mount.kind)[0]
  return { ...truth, [id]: (truth[id] ?? 0) + away(c, 2, 4) }
}

/** What no ordinary dish has. */
export const HARD_FAULTS = ['slip', 'clock', 'feed', 'storm', 'stop', 'backlash'] as const
export type HardFault = (typeof HARD_FAULTS)[number]

/** All six are drawn, so that one of them is the same whether the others are there or not. @param which  those that happen */
function hard(c: Chance, paper: Paper, truth: Truth, startMs: number, which: readonly HardFault[]): Faults {
  const has = (fault: HardFault): boolean => which.includes(fault)
  const feed = paper.feeds[0]!.id
  const counted = AXES.filter(a => paper.mount[a].readout.type !== 'degrees')
  const jacks = counted.filter(a => paper.mount[a].readout.type === 'jack')
  const loose = c.one(jacks.length > 0 ? jacks : AXES)
  const feedRight = away(c, 20, 35)
  const play = lag(paper, loose, c.between(0.6, 1.2))
  const before: Truth = {
    ...truth,
    ...(has('feed') && { [`feedRight:${feed}`]: feedRight }),
    ...(has('backlash') && { [`${loose}Play`]: play }),
  }
  const stormMs = startMs + c.between(48, 96) * HOUR_MS
  const slipping = counted.length > 0 ? c.one(counted) : null
  const stopped = c.one(AXES)
  const end = c.one(['low', 'high'] as const)
  const { minReading, maxReading } = paper.mount[stopped]
  const short = (maxReading - minReading) * c.between(0.06, 0.12)
  const middle = (axis: Axis) => (paper.mount[axis].minReading + paper.mount[axis].maxReading) / 2
  const after = afterStorm(c, paper, before)
  // No phone is off by whole seconds. Eighths are whole milliseconds, so that times stay exact.
  const clockErrorS = Math.round(8 * away(c, 120, 360)) / 8
  const slip: Slip | null =
    slipping === null
      ? null
      : {
          axis: slipping,
          fromMs: startMs + c.between(20, 40) * HOUR_MS,
          counts: -Math.round(c.between(3, 6) / degPerReading(paper, slipping, middle(slipping))),
        }
  return {
    truths: [{ fromMs: -Infinity, truth: before }, ...(has('storm') ? [{ fromMs: stormMs, truth: after }] : [])],
    clockErrorS: has('clock') ? clockErrorS : 0,
    slip: has('slip') ? slip : null,
    wrongStop: has('stop')
      ? { axis: stopped, end, reading: end === 'low' ? minReading + short : maxReading - short }
      : null,
    stormMs: has('storm') ? stormMs : null,
    feedOff: has('feed') ? { feed, rightMm: feedRight } : null,
    backlash: has('backlash') ? { axis: loose, deg: Math.abs(play) } : null,
  }
}

/** @param which  of a hard case: those of its faults that happen */
export function drawFaults(
  c: Chance,
  paper: Paper,
  difficulty: Difficulty,
  startMs: number,
  which: readonly HardFault[] = HARD_FAULTS,
): Faults {
  if (difficulty === 'hard') return hard(c, paper, drawAll(c, paper, 0.7), startMs, which)
  const truth = difficulty === 'beginner' ? drawBeginner(c, paper) : drawAll(c, paper, 0.5)
  return {
    truths: [{ fromMs: -Infinity, truth }],
    clockErrorS: 0,
    slip: null,
    wrongStop: null,
    stormMs: null,
    feedOff: null,
    backlash: null,
  }
}

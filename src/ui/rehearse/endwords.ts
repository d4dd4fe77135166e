/** Words of the end of a rehearsal: the truth beside what was found. No score. */

import { isBeamOffTarget } from '../../core/dish/optics.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import type { SolvedParameter } from '../../core/records/solution.ts'
import type { HiddenThing, Outcome, WrongReading } from '../../core/rehearse/outcome.ts'
import { HOUR_MS } from '../../core/units.ts'
import { countOf, decibels, degrees, duration, fixed, LEFT_RIGHT, toward, utcFull } from '../kit/format.ts'
import { axisName, whenToMinute } from '../kit/phrases.ts'
import { readingText } from '../kit/readings.ts'

export const END = {
  title: 'The truth',
  judging: 'Comparing what you found with the dish…',
  failed: 'It could not be compared: the station as it stands has no solution.',
  notYet: 'There is no sighting in this rehearsal yet. Close this, make some, and come back.',
  left: 'Really lost, both ways, at most, in 95 % of the Moon time',
  claimed: 'Claimed',
  worst: 'The worst',
  holds: 'What the app claimed holds for this dish as it truly is.',
  notPromised: 'The app did not call it "within" yet, so there is no promise to hold it to. This is how it stands.',
  fails: 'More is lost than the app claimed. Look below for what it did not know.',
  misses: 'the beam misses the Moon',
  unreached: 'The mount as solved reaches none of the Moon’s path: nothing to compare.',
  notWithin: 'The app did not say "within tolerance".',
  within: 'The app said "within tolerance".',
  parameters: 'Number by number: true, and found',
  noNumber: 'the readout was changed since: no one number',
  hidden: 'What happened without a word',
  naming: {
    noted: 'in the book',
    named: 'the app says so',
    rival: 'the app has it among other causes',
    not: 'not noticed',
  },
  /** What would have told. */
  tells: {
    clock: 'A time signal shows it: “Check the clock”, before the first sighting and once a day.',
    slip: 'A mark that is read at every visit shows it.',
    feed: 'A shadow and a peak of the same day show it: “Shadow against signal”.',
    storm: 'A few sightings on another day show it: “Has it moved?”',
    stop: 'Only driving to both ends shows it: what the counter shows there belongs in the book, as the axis’s limits.',
    backlash: 'One target, driven to from either side, shows it; note the side.',
  },
  wrong: 'Readings that were wrong',
  noneWrong: 'No reading that was written down was wrong.',
  caught: 'set aside',
  missed: 'not caught',
  accused: (n: number) => `${countOf(n, 'sighting')} set aside though right.`,
  time: 'Rehearsal time',
  sightings: 'Sightings',
  practised: (o: Outcome['practised']) =>
    `An experienced amateur takes about ${o.sightings} sightings and ${duration(o.hours * HOUR_MS)} for a dish like this (common practice).`,
  back: 'Go on rehearsing',
  again: 'Another rehearsal',
} as const

/** A parameter in its own unit, to the digits of its σ. */
export function parameterText(p: Pick<SolvedParameter, 'unit' | 'sigma'>, value: number): string {
  switch (p.unit) {
    case 'deg':
      return degrees(value, p.sigma < 0.1 ? 2 : 1)
    case 'mm':
      return `${fixed(value, 1)} mm`
    case 'ratio':
      return `${fixed(100 * value, 2)} %`
  }
}

/** "found 2.3° ± 0.2°, 0.4 of its uncertainty off" */
export const foundText = (p: SolvedParameter, offSigmas: number | null): string =>
  `found ${parameterText(p, p.value)} ± ${parameterText(p, p.sigma)}${offSigmas === null ? '' : `, off by ${fixed(Math.abs(offSigmas), 1)} times that`}`

export function hiddenText(station: StationRecord, h: HiddenThing): string {
  const name = h.axis === undefined ? '' : axisName(station.mount, h.axis)
  const when = h.clockMs === undefined ? '' : utcFull(h.clockMs)
  switch (h.kind) {
    case 'clock':
      return `The clock was ${fixed(Math.abs(h.seconds!) / 60, 1)} minutes ${h.seconds! > 0 ? 'fast' : 'slow'}`
    case 'slip':
      return `The ${name} counter lost ${fixed(Math.abs(h.counts!), 0)} counts on ${when}`
    case 'storm':
      return `A storm turned the lower axis on ${when}`
    case 'feed':
      return `The feed began ${toward(h.rightMm!, LEFT_RIGHT, ' mm')} of its place`
    case 'backlash':
      return `The ${name} drive loses ${degrees(h.deg!, 1)} when it turns round`
    case 'stop':
      return `The ${name} stops at ${readingText(station.mount, h.axis!, h.reading!)}, not where its label says`
  }
}

/** "Sun, 3 May 2026 10:20: off by 6.0°, by its time" */
export const wrongText = (station: StationRecord, w: WrongReading): string => {
  const s = station.sightings.find(one => one.id === w.id)!
  const target = s.target.type === 'moon' ? 'Moon' : s.target.type === 'sun' ? 'Sun' : s.target.type
  return `${target}, ${whenToMinute(s.utc)}: off by ${degrees(w.missDeg, 1)}${w.byClock ? ', by its time' : ''}`
}

export const lossText = (db: number, deg: number): string =>
  `${isBeamOffTarget(db) ? END.misses : decibels(db)} (${degrees(deg, deg < 10 ? 2 : 0)})`

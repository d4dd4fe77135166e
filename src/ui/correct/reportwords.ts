/** Words of the field report's page: facts of the station, how it was measured, what remains. Pure. */
import { isBeamOffTarget } from '../../core/dish/optics.ts'
import type { MeasuredRow, Report } from '../../core/export/report.ts'
import { instantMs } from '../../core/records/instant.ts'
import { locatorFromPlace } from '../../core/records/locator.ts'
import { METHOD_WORDS } from '../../core/records/methodwords.ts'
import type { ParameterState } from '../../core/records/solution.ts'
import {
  allowedDecibels,
  countOf,
  decibels,
  degrees,
  fixed,
  latitude,
  longitude,
  NBSP,
  safeText,
  utcDate,
  utcFull,
} from '../kit/format.ts'
import { MISSES, oneWay } from '../kit/loss.ts'
import { levelName } from '../kit/mount/words.ts'
import { APP, capital, MOUNT_WORDS, placeWords, SKY } from '../kit/phrases.ts'
import { STATE_NAMES } from './words.ts'

export const REPORT = {
  title: 'Field report',
  preparing: 'Preparing…',
  print: 'Print',
  printNote:
    'In the print dialog, “Save as PDF” makes a file of it. Where no dialog opens, open Moonplumb in the phone’s browser, or share the text.',
  noPrint: 'This browser cannot print. Share the text, or open Moonplumb in another browser.',
  asText: 'As a text',
  left: 'What remains',
  suspects: 'Still suspected',
  noSuspects: 'Nothing.',
  settle: 'To settle it:',
  measured: 'Measured',
  nothing: 'Nothing yet.',
  found: 'The mount as built, against what was entered',
  entered: 'Site, dish, feed and mount as entered',
  misses: 'Misses of the sightings',
  sky: 'Loss over the Moon’s sky, dB',
  changes: 'Changes',
  cautions: 'Cautions',
  first: 'as first described',
  more: (n: number) => `${n} more in the app.`,
} as const

/** "Measured, 10 Oct 2026 to 16 Nov 2026: 17 sightings, 3 levels and marks" */
export function measuredTold(report: Report): string {
  if (report.measured.length === 0) return `${measuredHead(report)}: ${REPORT.nothing}`
  const count = (isSighting: boolean) =>
    report.measured.filter(row => (row.of === 'sightings') === isSighting).reduce((sum, row) => sum + row.count, 0)
  const others = count(false)
  return `${measuredHead(report)}: ${countOf(count(true), 'sighting')}${others > 0 ? `, ${fixed(others, 0)} at the mount` : ''}`
}

/** "11 known well enough, 4 not known yet" */
export const statesTold = (found: readonly { state: ParameterState }[]): string =>
  (Object.keys(STATE_NAMES) as ParameterState[])
    .map(state => ({ state, n: found.filter(f => f.state === state).length }))
    .filter(({ n }) => n > 0)
    .map(({ state, n }) => `${n} ${STATE_NAMES[state]}`)
    .join(', ')

/** "12 used, 1 set aside" */
export const usedWords = ({ used, outliers }: Report['solution']['fit']): string =>
  `${used} used${outliers > 0 ? `, ${outliers} set aside` : ''}`

export interface Fact {
  what: string
  value: string
}

const carriedWords = (carried: Report['carried']): string =>
  carried === null
    ? 'carrying over not noted'
    : `numbers carried over ${utcDate(instantMs(carried.utc))}${carried.isAltered ? ', before the last change' : ''}`

export function factsOf({ site, dish, feed, mount, solution, madeUtc, carried }: Report, version: string): Fact[] {
  const faces = mount.headingDeg === undefined ? '' : `, faces ${degrees(mount.headingDeg, 1)} as entered`
  return [
    {
      what: 'Site',
      value: `${latitude(site.latDeg, 4)}, ${longitude(site.lonDeg, 4)}, ${fixed(site.heightM, 0)}${NBSP}m, ${locatorFromPlace(site.latDeg, site.lonDeg)}`,
    },
    {
      what: 'Dish',
      value: `${fixed(dish.diameterM, 2)}${NBSP}m, f/D ${fixed(dish.focalRatio, 2)}${dish.fed === 'offset' ? ', offset feed' : ''}`,
    },
    {
      what: 'Feed',
      value: `${safeText(feed.name)}, ${fixed(feed.frequencyMHz, Number.isInteger(feed.frequencyMHz) ? 0 : 1)}${NBSP}MHz, beam ${degrees(feed.beamwidthDeg, 2)}`,
    },
    { what: 'Mount', value: `${MOUNT_WORDS[mount.kind]}${faces}` },
    {
      what: 'Setup',
      value: solution.setupFromUtc === null ? REPORT.first : `since ${utcFull(instantMs(solution.setupFromUtc))}`,
    },
    { what: 'Program', value: carriedWords(carried) },
    { what: 'Made', value: `${utcFull(instantMs(madeUtc))}, ${APP} ${version}` },
  ]
}

const spanWords = ({ least, most }: { least: number; most: number }): string =>
  degrees(least, 2) === degrees(most, 2)
    ? `±${NBSP}${degrees(most, 2)}`
    : `±${NBSP}${degrees(least, 2)} to ${degrees(most, 2)}`

/** "14, 12 used, 2 set aside · Sun 9, Moon 5 · each ± 0.50°" */
export function measuredFact(row: MeasuredRow, { mount }: Pick<Report, 'mount'>): Fact {
  switch (row.of) {
    case 'sightings': {
      const { count, used, aside, excluded, sun, moon } = row
      const others = count - sun - moon
      const counted = [
        `${used} of ${count} used`,
        aside > 0 && `${aside} set aside`,
        excluded > 0 && `${excluded} left out`,
      ]
      const bodies = [sun > 0 && `Sun ${sun}`, moon > 0 && `Moon ${moon}`, others > 0 && `others ${others}`]
      const parts = [counted, bodies].map(list => list.filter(text => text !== false).join(', '))
      if (row.sigmaDeg) parts.push(spanWords(row.sigmaDeg))
      return { what: capital(METHOD_WORDS[row.method]), value: parts.join('; ') }
    }
    case 'levels':
      return { what: levelName(mount, row.what), value: `${row.count}; ${spanWords(row.sigmaDeg)}` }
    case 'references':
      return { what: 'Fixed marks', value: countOf(row.count, 'reading') }
  }
}

export const measuredHead = ({ measuredUtc }: Report): string =>
  measuredUtc === null
    ? REPORT.measured
    : `${REPORT.measured}, ${utcDate(instantMs(measuredUtc.from))} to ${utcDate(instantMs(measuredUtc.to))}`

/** Sentences; the first is the verdict and stands above them. @param verdict  of verdictWords */
export function reportLeftWords({ solution, allowedEchoLossDb, worst }: Report): string[] {
  const { sky, fit } = solution
  if (fit.used === 0) return []
  if (sky.hours === 0) return [SKY.notReached]
  const loss = (db: number) =>
    isBeamOffTarget(db) ? MISSES : `${decibels(db, allowedEchoLossDb)} lost on own echoes, ${oneWay(db)}`
  return [
    `For 95${NBSP}% of Moon time, with 90${NBSP}% confidence: under ${degrees(sky.after.p95Deg, 2)}, ${loss(sky.echoLossP95Db)}. Allowed: ${degrees(sky.toleranceDeg, 2)}, ${allowedDecibels(allowedEchoLossDb)}. With the mount as entered: ${degrees(sky.before.p95Deg, 2)}.`,
    `Worst${worst ? `, ${placeWords(worst.azDeg, worst.elDeg)}` : ''}: ${degrees(sky.after.worstDeg, 2)}, ${loss(sky.echoLossWorstDb)}.`,
    `The sightings fit to ${degrees(fit.rmsDeg, 2)} rms; misfit ${fixed(fit.misfit, 1)}, 1 expected.`,
  ]
}

/** Letters on a page of ordinary length, and its type; a fuller page has smaller type, as much as the letters need, and no less than this. */
const ORDINARY = { letters: 3000, pt: 8.4 }
const SMALLEST_PT = 6.2

/** The type of the printed page, so that it stays one. @param letters  of all that stands on it */
export const typeSize = (letters: number): string =>
  `${Math.max(SMALLEST_PT, ORDINARY.pt * Math.min(1, Math.sqrt(ORDINARY.letters / letters))).toFixed(2)}pt`

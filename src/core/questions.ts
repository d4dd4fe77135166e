/**
 * The one door into the core: plain field-book JSON and `now` in, plain JSON out. The worker and the batch command are
 * thin routers over these, so the app and the desk give the same answer.
 */

import { type AlignmentJson, alignmentJson } from './alignment/json.ts'
import { type DriveBudget, driveBudgetOf } from './carry/budget.ts'
import { type CarriedCheck, checkCarried, type ShownOutput } from './carry/carriedcheck.ts'
import { type CheckTarget, checkTargetsOf, type TargetsWish } from './carry/checktargets.ts'
import { type CarryChoices, choicesOf } from './carry/choices.ts'
import type { CarryWish } from './carry/numbers.ts'
import { type CarryPage, pageOf } from './carry/page.ts'
import {
  type FeedCheckJson,
  feedCheckJson,
  type NoonCheckJson,
  noonCheckJson,
  type ShadowReadingJson,
  type ShadowsJson,
  shadowsJson,
} from './check/feedjson.ts'
import { type ProgramJson, type ProgramWish, programJson } from './check/programjson.ts'
import { type Bolts, boltsOf } from './export/bolts.ts'
import { windowsCalendar } from './export/icalendar.ts'
import { type Recipe, recipeOf } from './export/recipe.ts'
import { recipeTextOf } from './export/recipetext.ts'
import { type Report, reportOf } from './export/report.ts'
import { reportTextOf } from './export/reporttext.ts'
import { targetCsv, targetRows } from './export/targets.ts'
import { windowsCsv } from './export/windows.ts'
import { builtFor, solutionJson } from './fit/solution.ts'
import { type Pasted, pastedLevels } from './import/levels.ts'
import { stationBefore } from './level/carryover.ts'
import { onPaper } from './mount/slots.ts'
import { type NoiseAnswer, noiseAnswer } from './noise/noiseanswer.ts'
import { type AboutTarget, aboutTargetOf } from './plan/abouttarget.ts'
import { type CampaignJson, campaignJson } from './plan/campaignjson.ts'
import { type DialBody, dialOf } from './plan/dial.ts'
import { dialTargetOf, type TargetDial } from './plan/dialtarget.ts'
import {
  type FirstSearchJson,
  type FirstSearchWish,
  firstSearchJson,
  type SearchStepJson,
  searchStepJson,
} from './plan/firstsearchjson.ts'
import { type HasMovedJson, hasMovedJson } from './plan/hasmovedjson.ts'
import { type Landscape, landscapeOf } from './plan/landscape.ts'
import { type PolarisationRow, type PolarisationWish, polarisationJson } from './plan/polarisationjson.ts'
import { type StormCheckJson, stormCheckJson } from './plan/stormjson.ts'
import { type WillReachJson, type WillReachWish, willReachJson } from './plan/willreachjson.ts'
import { type WindowsJson, type WindowsWish, windowsFor, windowsJson } from './plan/windowsjson.ts'
import { type WorthDoingJson, worthJson } from './plan/worthjson.ts'
import { knownAdjusters } from './records/adjusters.ts'
import { type Answer, type Fault, no } from './records/answer.ts'
import { feedOf } from './records/feeds.ts'
import type { FieldBook, StationRecord, TargetRecord } from './records/fieldbook.ts'
import { msFromUtc } from './records/instant.ts'
import { readFieldBook } from './records/intake.ts'
import type { CrossScanRecord, DriftScanRecord } from './records/scans.ts'
import type { Solution } from './records/solution.ts'
import { stationFromRecord, targetFromRecord } from './records/stationintake.ts'
import {
  type CrossAnswerJson,
  type CrossPlanJson,
  type CrossWishJson,
  crossFitJson,
  crossPlanJson,
  type DriftAnswerJson,
  type DriftPlanJson,
  type DriftWish,
  driftFitJson,
  driftPlanJson,
} from './scan/answer.ts'
import { type EqualJson, equalJson, type TapsJson, tapsJson } from './scan/tapanswer.ts'
import { type LandmarkJson, type LandmarkWish, landmarkJson } from './sky/landmarkjson.ts'
import { solvedOnce } from './solvedonce.ts'
import { type AboutFeed, answerOf, feedNamed, stationNamed, withFeed, withShadow } from './stationasked.ts'
import { type DishAnswer, dishAnswer } from './tape/measured.ts'

/** The solution of a station at an instant; sky, controller and next sightings are those of one feed. */
export const solve = (book: FieldBook, o: AboutFeed): Answer<Solution> =>
  withFeed(book, o, (solved, feed) => solutionJson(answerOf(solved, feed, o.now), o.now))

/** Sun and Moon over the coming minutes, with the readings to drive to for the setup at `now`. */
export const dial = (book: FieldBook, o: AboutFeed & { stepS: number; count: number }): Answer<DialBody[]> =>
  withFeed(book, o, (solved, feed) => {
    const now = msFromUtc(o.now)
    return dialOf(solved.station, feed, builtFor(solved, now, feed).built, now, 1000 * o.stepS, o.count)
  })

/** Any one target over the coming minutes, with the readings to drive to for the setup at `now` and what happens to it next. */
export const dialTarget = (
  book: FieldBook,
  o: AboutFeed & { target: TargetRecord; stepS: number; count: number },
): Answer<TargetDial> =>
  withFeed(book, o, (solved, feed) => {
    const now = msFromUtc(o.now)
    const { built } = builtFor(solved, now, feed)
    return dialTargetOf(solved.station, feed, built, targetFromRecord(o.target), now, 1000 * o.stepS, o.count)
  })

/** What of a target a feed should hear, and how far a geostationary satellite strays in it. */
export const aboutTarget = (book: FieldBook, o: AboutFeed & { target: TargetRecord }): Answer<AboutTarget> =>
  withFeed(book, o, (solved, feed, record) => aboutTargetOf(solved.station, record, feed, o.target, msFromUtc(o.now)))

/** Where a landmark of known coordinates stands from here. */
export function landmark(book: FieldBook, o: { now: string; station?: string } & LandmarkWish): Answer<LandmarkJson> {
  const named = stationNamed(book, o.station)
  return named.ok ? { ok: true, value: landmarkJson(stationFromRecord(named.value).site, o) } : named
}

/** The sky as this mount sees it, for the drawings. */
export const landscape = (book: FieldBook, o: AboutFeed): Answer<Landscape> =>
  withFeed(book, o, (solved, feed) => landscapeOf(answerOf(solved, feed, o.now), msFromUtc(o.now)))

/** What is worth doing next, of everything that can be measured here: what each brings, and what it costs outside. */
export const worth = (book: FieldBook, o: AboutFeed): Answer<WorthDoingJson> =>
  withFeed(book, o, (solved, feed) => worthJson(solved, feed, msFromUtc(o.now)))

/** The guided alignment: the trade's steps in order, the state of each from the records, what this dish needs of it. */
export const alignment = (book: FieldBook, o: AboutFeed): Answer<AlignmentJson> =>
  withFeed(book, o, (solved, feed, record) => alignmentJson(answerOf(solved, feed, o.now), record, o.now))

/**
 * The sightings of the coming days: what each along the paths brings, which of today's together bring most and when one more no longer
 * shows, and on which day to come back where today's sky cannot finish.
 */
export const campaign = (book: FieldBook, o: AboutFeed): Answer<CampaignJson> =>
  withFeed(book, o, (solved, feed) => campaignJson(solved, feed, msFromUtc(o.now)))

/** What a tracking program may take of this mount, from the most to the least, each with what it leaves. */
export const carryChoices = (book: FieldBook, o: AboutFeed & { wish: CarryWish }): Answer<CarryChoices> =>
  withFeed(book, o, (solved, feed) => choicesOf(answerOf(solved, feed, o.now), o.wish))

/** One page for such a program: its numbers, what it must assume, what remains. */
export const carryPage = (book: FieldBook, o: AboutFeed & { wish: CarryWish }): Answer<CarryPage> =>
  withFeed(book, o, (solved, feed) => pageOf(answerOf(solved, feed, o.now), o.wish, o.now))

/** The limits, dead bands and steps of a program that follows the Moon here. */
export const carryBudget = (book: FieldBook, o: AboutFeed): Answer<DriveBudget> =>
  withFeed(book, o, (solved, feed, record) => driveBudgetOf(answerOf(solved, feed, o.now), record))

/** Three targets within reach now at which slips in typing that page show best. @param o.page  as it was carried over */
export const carryTargets = (
  book: FieldBook,
  o: AboutFeed & { page: CarryPage; targets: TargetsWish },
): Answer<CheckTarget[]> =>
  withFeed(book, o, (solved, feed) =>
    checkTargetsOf(answerOf(solved, feed, o.now), o.page, msFromUtc(o.now), o.targets),
  )

/** What a program shows at such targets against the page that was carried over. Refused: no target at all. */
export function carryCheck(
  book: FieldBook,
  o: AboutFeed & { page: CarryPage; typed: ShownOutput[] },
): Answer<CarriedCheck> {
  if (o.typed.length === 0)
    return no('typed', 'there must be at least one target for which the program shows something')
  return withFeed(book, o, (solved, feed) => checkCarried(answerOf(solved, feed, o.now), o.page, o.typed))
}

/** What to turn at the station's adjusters and how far, in order; what will remain; what is best left. */
export const bolts = (book: FieldBook, o: AboutFeed): Answer<Bolts> =>
  withFeed(book, o, (solved, feed, { adjusters }) =>
    boltsOf(answerOf(solved, feed, o.now), knownAdjusters(adjusters), o.now),
  )

/** All that a program of one's own needs for this mount: numbers, equations both ways, ten worked check points. */
export const recipe = (book: FieldBook, o: AboutFeed): Answer<Recipe> =>
  withFeed(book, o, (solved, feed, record) => recipeOf(answerOf(solved, feed, o.now), o.now, record))

/** The same to read and to print, complete by itself. */
export function recipeText(book: FieldBook, o: AboutFeed): Answer<string> {
  const made = recipe(book, o)
  return made.ok ? { ok: true, value: recipeTextOf(made.value) } : made
}

/** The field report: what was measured, what was found and how well, what remains, what is suspected. */
export const report = (book: FieldBook, o: AboutFeed): Answer<Report> =>
  withFeed(book, o, (solved, feed, record) => reportOf(answerOf(solved, feed, o.now), record, o.now))

/** The same as plain text. @param o.program  its name and version, for the head */
export function reportText(book: FieldBook, { program, ...o }: AboutFeed & { program: string }): Answer<string> {
  const made = report(book, o)
  return made.ok ? { ok: true, value: reportTextOf(made.value, program) } : made
}

/** The dish by what was taped on it, in one table. */
export function dish(book: FieldBook, o: { station?: string }): Answer<DishAnswer> {
  const named = stationNamed(book, o.station)
  return named.ok ? { ok: true, value: dishAnswer(named.value) } : named
}

/** What the noise records say: G/T of each, what Sun and Moon should do, whether it has fallen. */
export function noise(book: FieldBook, o: { station?: string }): Answer<NoiseAnswer> {
  const named = stationNamed(book, o.station)
  return named.ok ? { ok: true, value: noiseAnswer(named.value) } : named
}

/** Where to park for a target to drift through the beam at a time, and how long it takes; null where that cannot be. */
export const driftPlan = (
  book: FieldBook,
  o: AboutFeed & { target: TargetRecord; passUtc: string },
): Answer<DriftPlanJson | null> => withFeed(book, o, (s, feed) => driftPlanJson(s, feed, o.target, o.passUtc))

/** A drift scan fitted: peak, width, curve, and the sighting that follows. The scan's parts are taken from the book. */
export const driftFit = (book: FieldBook, o: AboutFeed & DriftWish): Answer<DriftAnswerJson> =>
  withFeed(book, o, (s, _, record) => driftFitJson(s, o, record.scans))

/** A drift scan by taps: when the target stood highest. The marks of its parts are taken from the book. */
export const driftTaps = (book: FieldBook, o: AboutFeed & { scan: DriftScanRecord }): Answer<TapsJson> =>
  withFeed(book, o, (s, _, record) => tapsJson(s, o.scan, record.scans))

/** A cross scan by equal levels on either side of the peak. */
export const crossEqual = (book: FieldBook, o: AboutFeed & { scan: CrossScanRecord }): Answer<EqualJson> =>
  withFeed(book, o, s => equalJson(s, o.scan))

/** Which readings to set for a cross scan; null where no pose shows the target. */
export const crossPlan = (book: FieldBook, o: AboutFeed & CrossWishJson): Answer<CrossPlanJson | null> =>
  withFeed(book, o, (s, feed) => {
    const { now: _now, station: _station, feed: _feed, ...wish } = o
    return crossPlanJson(s, feed, wish)
  })

/** A cross scan fitted: both coordinates, lost motion, and the sighting that follows. */
export const crossFit = (
  book: FieldBook,
  o: AboutFeed & { scan: CrossScanRecord; width?: 'free' | 'known' },
): Answer<CrossAnswerJson> => withFeed(book, o, s => crossFitJson(s, o))

/** Where every feed really sits, which way to move it, what its place costs; refused for an offset feed. @param moved a move as it was really made */
export const feedCheck = (
  book: FieldBook,
  o: AboutFeed & { moved?: { feed: string; rightMm: number; upMm: number } },
): Answer<FeedCheckJson[]> => withShadow(book, o, s => feedCheckJson(s, msFromUtc(o.now), o.moved))

/** The Sun's day here, what both axes should read at a time (the transit), and where the feed's shadow should fall. */
export const noonCheck = (
  book: FieldBook,
  o: AboutFeed & { at?: string; readings?: { lower: number; upper: number } },
): Answer<NoonCheckJson> => withShadow(book, o, (s, feed) => noonCheckJson(s, feed, msFromUtc(o.now), o))

/** Shadows as they were read, together: miss, pace, one sighting. Null when a jack's triangle does not close at a reading. */
export const shadows = (
  book: FieldBook,
  o: AboutFeed & { readings: ShadowReadingJson[]; sigmaMm?: number; clockOffsetS?: number },
): Answer<ShadowsJson | null> => withShadow(book, o, (s, feed) => shadowsJson(s, feed, o.readings, o))

/**
 * After a storm: everything measured from `since` on (as the phone had the time) to the next change, against the mount as it was. Null
 * when a jack's triangle does not close at a reading. @param o.now  from when on something more can be done
 */
export function stormCheck(book: FieldBook, o: AboutFeed & { since: string }): Answer<StormCheckJson | null> {
  const named = stationNamed(book, o.station)
  if (!named.ok) return named
  const solved = solvedOnce(stationBefore(named.value, o.since))
  const feed = feedNamed(solved.station, o.feed)
  if (!feed.ok) return feed
  return { ok: true, value: stormCheckJson(solved, named.value, feed.value, msFromUtc(o.since), msFromUtc(o.now)) }
}

/**
 * Whether the mount moved since its last change: from which visit on, what, and by how much; or that it holds, said only where a move
 * that matters would have shown; or what would tell. Visits at most twelve back.
 */
export const hasMoved = (book: FieldBook, o: AboutFeed): Answer<HasMovedJson> =>
  withFeed(book, o, (solved, feed, record) => hasMovedJson(solved, record, feed, msFromUtc(o.now)))

/** The target table as CSV, with the solution for the setup at `now` applied unless `uncorrected`. */
export function targets(
  book: FieldBook,
  o: {
    now: string
    station?: string
    target: TargetRecord
    fromUtc: string
    hours: number
    stepS: number
    feed?: string
    uncorrected?: boolean
    /** Readings also where the target is out of reach or too low. */
    allReadings?: boolean
  },
): Answer<string> {
  const named = stationNamed(book, o.station)
  if (!named.ok) return named
  const onPaperOnly = stationFromRecord(named.value)
  const known = feedNamed(onPaperOnly, o.feed)
  if (!known.ok) return known
  const solved = o.uncorrected ? null : solvedOnce(named.value)
  const station = solved?.station ?? onPaperOnly
  const feed = feedOf(station, o.feed)
  const built = solved === null ? onPaper() : builtFor(solved, msFromUtc(o.now), feed).built
  const rows = targetRows(station, feed, built, o.target, msFromUtc(o.fromUtc), o.hours, o.stepS)
  return { ok: true, value: targetCsv(station, o.target, rows, o.allReadings) }
}

/** A landmark is seen from one place only. */
const withPartner: <T>(o: Pick<WindowsWish, 'target' | 'partner'>, tell: () => Answer<T>) => Answer<T> = (o, tell) =>
  o.partner !== undefined && o.target.type === 'landmark'
    ? no('partner', 'a landmark cannot be shared with another place')
    : tell()

/**
 * When a target can be used: every spell in which it is inside this mount's limits (as solved at `now`), above mask and floor, and
 * above the partner's horizon where one is given; and by day its rise, transit, set, distance and what is heard behind it. The days
 * are 24 hours each from `fromUtc`: ask from the person's own midnight. For 28 days 0.1 s; refused: a partner for a landmark.
 */
export const windows = (book: FieldBook, o: AboutFeed & WindowsWish): Answer<WindowsJson> =>
  withPartner(o, () => withFeed(book, o, (solved, feed) => windowsJson(solved, feed, msFromUtc(o.now), o)))

/** The list of the same spells as a file: `csv` as the batch command prints it, or `ics`, a calendar (RFC 5545) stamped `now`. */
export const windowsText = (book: FieldBook, o: AboutFeed & WindowsWish & { as: 'csv' | 'ics' }): Answer<string> =>
  withPartner(o, () =>
    withFeed(book, o, (solved, feed, record) => {
      const now = msFromUtc(o.now)
      return o.as === 'csv'
        ? windowsCsv(windowsFor(solved, feed, builtFor(solved, now, feed), o).spells)
        : windowsCalendar(windowsJson(solved, feed, now, o), record.id, now)
    }),
  )

/**
 * Polarisation over a pass: how far the UP mark is rolled from the vertical, and the spatial offset to a partner's vertical. It
 * matters for linear feeds; with circular ones say so and do not ask. Refused: a partner for a landmark.
 */
export const polarisation = (book: FieldBook, o: AboutFeed & PolarisationWish): Answer<PolarisationRow[]> =>
  withPartner(o, () => withFeed(book, o, (solved, feed) => polarisationJson(solved, feed, msFromUtc(o.now), o)))

/**
 * A tracking program against ours: whether the places that it shows for a target agree, and if not what it looks like: its clock, an
 * hour of summer time, a longitude's sign, a Moon seen from the Earth's centre, refraction left out, azimuth from south; several of
 * these (ask for another instant), or none. And by how much its readings differ from the solution's. Refused: no place at all.
 */
export function program(book: FieldBook, o: AboutFeed & ProgramWish): Answer<ProgramJson> {
  if (o.shown.length === 0) return no('shown', 'there must be at least one place that the program shows')
  return withFeed(book, o, (solved, feed) => programJson(solved, feed, msFromUtc(o.now), o))
}

/**
 * Nothing heard yet: the places round the Sun to point at, in order, for this beam and as far as the mount may be off; how long it takes
 * and by how much the Sun should rise above cold sky.
 */
export const firstSearch = (book: FieldBook, o: AboutFeed & FirstSearchWish): Answer<FirstSearchJson> =>
  withFeed(book, o, (solved, feed) => firstSearchJson(solved, feed, msFromUtc(o.startedUtc ?? o.now), o))

/** The readings of one step of that search at `now`, the Sun having moved on; null where there is no pose. */
export const searchStep = (
  book: FieldBook,
  o: AboutFeed & { startedUtc: string; step: number; lossDb?: number },
): Answer<SearchStepJson | null> =>
  withFeed(book, o, (solved, feed) => searchStepJson(solved, feed, msFromUtc(o.startedUtc), msFromUtc(o.now), o))

/**
 * Before building: what of the Moon a mount would reach at a place, by month and year, what takes the rest, and the best and worst
 * year of the Moon's cycle. No book is needed; ask twice to compare two variants. Refused with the field book's own rules, paths
 * such as `site.latDeg` or `mount.lower.maxReading`.
 */
export const willReach = (wish: WillReachWish): Answer<WillReachJson> => willReachJson(wish)

/** The faults that the intake finds in a text; empty when it is a valid field book. */
export function faultsOfText(text: string): Fault[] {
  const read = readFieldBook(text)
  return read.ok ? [] : read.faults
}

/** The levels in a receiver's log, as pasted. @param startMs  UTC ms, where plain seconds count from */
export const levelsInLog = (text: string, startMs: number): Pasted => pastedLevels(text, startMs)

/** Whether a text is a field book, and what is in it. */
export function check(text: string): Answer<{ book: FieldBook; counts: Record<string, number> }> {
  const read = readFieldBook(text)
  if (!read.ok) return read
  const count = (list: (s: StationRecord) => unknown[] | undefined) =>
    read.value.stations.reduce((a, s) => a + (list(s)?.length ?? 0), 0)
  return {
    ok: true,
    value: {
      book: read.value,
      counts: {
        stations: read.value.stations.length,
        sightings: count(s => s.sightings),
        levels: count(s => s.levels),
        changes: count(s => s.changes),
        references: count(s => s.references),
      },
    },
  }
}

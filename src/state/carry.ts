/**
 * What the person's tracking program can take, one choice a station, remembered on this phone; the pages that follow from it, asked for
 * while they are watched; and the page that was carried over, as it stood then.
 */
import { computed, type ReadonlySignal, signal } from '@preact/signals'
import type { CarriedCheck, ShownOutput } from '../core/carry/carriedcheck.ts'
import type { CheckTarget, TargetsWish } from '../core/carry/checktargets.ts'
import { AIMINGS, type Aiming, type CarryWish, LAWS, type Law } from '../core/carry/numbers.ts'
import type { CarryPage } from '../core/carry/page.ts'
import { AXES } from '../core/mount/names.ts'
import { alignmentOf, carriedNumbers, lastCarried } from '../core/records/alignment.ts'
import type { StationRecord } from '../core/records/fieldbook.ts'
import { instantMs } from '../core/records/instant.ts'
import type { Solution } from '../core/records/solution.ts'
import { DAY_MS } from '../core/units.ts'
import type { Kept } from '../store/database.ts'
import { markCarriedOver } from './alignment.ts'
import { ask, isoOf, soundValue, type Told, trueNowMs, watched } from './ask.ts'
import { fieldBook } from './book.ts'
import { feedHere } from './chosenfeed.ts'
import { remember, remembered } from './memory.ts'
import { answeredOfFeed } from './offeed.ts'

export type { CarriedCheck, CarryPage, CheckTarget, ShownOutput, TargetsWish }

/** The choice as far as it was made. */
export interface CarryChoice extends Omit<CarryWish, 'aiming' | 'law'> {
  aiming: Aiming | null
  law: Law | null
}

const KEY = 'moonplumb.carry'
const NOTHING: CarryChoice = { aiming: null, law: null, unit: 'degrees', way: 'command', step: 2 }

const isOneOf = <T>(list: readonly T[], x: unknown): x is T => list.includes(x as T)

function rememberedChoices(): Readonly<Record<string, CarryChoice>> {
  try {
    const all: unknown = JSON.parse(remembered(KEY) ?? '{}')
    if (typeof all !== 'object' || all === null) return {}
    return Object.fromEntries(
      Object.entries(all as Record<string, Partial<CarryChoice> | null>).map(([id, c]) => [
        id,
        {
          aiming: isOneOf(AIMINGS, c?.aiming) ? c.aiming : null,
          law: isOneOf(LAWS, c?.law) ? c.law : null,
          unit: c?.unit === 'counts' ? 'counts' : 'degrees',
          way: c?.way === 'reading' ? 'reading' : 'command',
          step: typeof c?.step === 'number' && c.step > 0 && Number.isFinite(c.step) ? c.step : NOTHING.step,
        },
      ]),
    )
  } catch {
    return {}
  }
}

const choices = signal(rememberedChoices())

export const carryChoiceOf = (station: StationRecord): CarryChoice => choices.value[station.id] ?? NOTHING

export function chooseCarry(station: StationRecord, change: Partial<CarryChoice>): void {
  choices.value = { ...choices.value, [station.id]: { ...carryChoiceOf(station), ...change } }
  remember(KEY, JSON.stringify(choices.value))
}

/** What is not chosen yet is taken at its minimum. */
const wishOf = (station: StationRecord): CarryWish => {
  const { aiming, law, ...rest } = carryChoiceOf(station)
  return { ...rest, aiming: aiming ?? 'paper', law: law ?? 'line' }
}

const AGE_MS = 600_000
const about = (station: StationRecord) => ({ feed: feedHere(station), wish: wishOf(station) })

/** The same time all day, so that no last digit changes while a person copies the page; the time of the last change where that is today. */
function pageTime(station: StationRecord): string {
  const now = trueNowMs(station)
  const today = DAY_MS * Math.floor(now / DAY_MS)
  const changes = (station.changes ?? []).map(c => instantMs(c.utc)).filter(ms => ms <= now)
  return isoOf(Math.max(today, ...changes))
}

const asked = watched({
  about,
  ask: (station, of: ReturnType<typeof about>) => ask(station, 'carryChoices', of, { at: pageTime(station) }),
  ageMs: AGE_MS,
})
/** The kinds of program for this mount, each with what it leaves; an older wish's while the new one's is on its way. */
export const carryChoices = computed(() => soundValue(asked.held.value))

const askedPage = watched({
  about,
  ask: (station, of: ReturnType<typeof about>) => ask(station, 'carryPage', of, { at: pageTime(station) }),
  ageMs: AGE_MS,
})
/** The page of the present choice; null while it is on its way: numbers of another page must not be copied. */
export const carryPage: ReadonlySignal<CarryPage | null> = computed(() => {
  const { held } = askedPage
  const station = fieldBook.station.value
  const isPresent = station !== null && JSON.stringify(held.value.about) === JSON.stringify(about(station))
  return isPresent ? soundValue(held.value) : null
})

/** Limits, dead bands, steps. */
export const carryBudget = answeredOfFeed('carryBudget', { ageMs: AGE_MS })

const carriedKey = (station: Pick<StationRecord, 'id'>): string => `moonplumb.carried.${station.id}`
/** Counts what was carried, so that screens see it. */
const carries = signal(0)

/** Remembers the page that the person says is in the program now, for the check points: on this phone. */
export function noteCarried(station: StationRecord, page: CarryPage): void {
  remember(carriedKey(station), JSON.stringify({ version: 1, page }))
  carries.value++
}

/** Keeps in the book that it was carried over, with the solution's present numbers. The same again, with no change since, is not recorded twice. */
export async function keepCarried(station: StationRecord, solution: Solution, id: string): Promise<Kept<unknown>> {
  const numbers = carriedNumbers(solution)
  const last = lastCarried(alignmentOf(station.alignment), solution.feed)
  const isNoted =
    last !== null &&
    JSON.stringify(last.numbers) === JSON.stringify(numbers) &&
    (station.changes ?? []).every(change => instantMs(change.utc) <= instantMs(last.utc))
  // Without a sighting the numbers are those entered, which the program has anyway.
  return isNoted || solution.fit.used === 0
    ? { kind: 'done', value: [] }
    : markCarriedOver(station, id, solution.feed, numbers, '')
}

/** The page as it was carried; null: none, or one of another version of the program. */
export function carriedPage(station: StationRecord): CarryPage | null {
  void carries.value
  try {
    const { version, page } = JSON.parse(remembered(carriedKey(station)) ?? '') as { version: number; page: CarryPage }
    const isWhole =
      version === 1 && Array.isArray(page.numbers) && Array.isArray(page.otherWay) && page.axes.upper !== undefined
    return isWhole ? page : null
  } catch {
    return null
  }
}

/** Whether site and mount are still entered as they were when the page was made: its numbers depend on that. */
export function isEnteredAs(station: StationRecord, { paper, axes }: CarryPage): boolean {
  const { site, mount } = station
  const near = (a: number, b: number) => Math.abs(a - b) < 1e-6
  const isHeaded = paper.headingDeg !== null
  return (
    paper.kind === mount.kind &&
    near(paper.latDeg, site.latDeg) &&
    near(paper.lonDeg, site.lonDeg) &&
    (!isHeaded || near(paper.headingDeg!, mount.headingDeg ?? Number.NaN)) &&
    (paper.dishOffsetDeg === null || near(paper.dishOffsetDeg, mount.boresightOffsetDeg ?? 0)) &&
    AXES.every(axis => JSON.stringify(axes[axis].entered) === JSON.stringify(mount[axis].readout))
  )
}

export const askCarryTargets = (
  station: StationRecord,
  feed: string,
  page: CarryPage,
  targets: TargetsWish,
): Promise<Told<CheckTarget[]>> => ask(station, 'carryTargets', { feed, page, targets })

export const askCarryCheck = (
  station: StationRecord,
  feed: string,
  page: CarryPage,
  typed: ShownOutput[],
): Promise<Told<CarriedCheck>> => ask(station, 'carryCheck', { feed, page, typed })

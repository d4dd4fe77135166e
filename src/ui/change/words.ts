/** Words of marks and changes: what a counter lost, what moved, what carries over. */
import { splitPriorId } from '../../core/fit/parameters.ts'
import type { CarryOver, Unknown } from '../../core/level/carryover.ts'
import type { MarkVerdict } from '../../core/level/marks.ts'
import { entryOf, type Family, labelOf, unitOf } from '../../core/mount/parameters.ts'
import type {
  Axis,
  MountRecord,
  ParameterId,
  PriorRecord,
  ReferenceRecord,
  StationRecord,
} from '../../core/records/fieldbook.ts'
import { radFromDeg } from '../../core/units.ts'
import { changeWord } from '../kit/changewords.ts'
import { countOf, lengthUnit, measured, measuredLength, safeText } from '../kit/format.ts'
import { axisName, capital, listed, readingUnit, whenToMinute } from '../kit/phrases.ts'
import { readingWords } from '../kit/readings.ts'

const sizeWords = (mount: MountRecord, axis: Axis, difference: number, sigma: number): string =>
  measured(Math.abs(difference), sigma, readingUnit(mount, axis) === 'degrees' ? '°' : 'counts').text

/** What a reading at a mark says against the earlier ones. */
export function markVerdictWords(
  mount: MountRecord,
  mark: ReferenceRecord,
  verdict: MarkVerdict,
): { differs: boolean; text: string } {
  const name = `“${safeText(mark.mark)}”`
  const axis = axisName(mount, mark.axis)
  switch (verdict.kind) {
    case 'first':
      return { differs: false, text: `The first reading of ${name}. The next one shows whether counts were lost.` }
    case 'first-since':
      return {
        differs: false,
        text: `The first reading of ${name} since ${whenToMinute(verdict.changeUtc)}, when the ${axis} readout was reset.`,
      }
    case 'agrees':
      return {
        differs: false,
        text:
          verdict.earlier === 1
            ? `Agrees with the reading of ${name} on ${whenToMinute(verdict.since.utc)}.`
            : `Agrees with all ${verdict.earlier} readings of ${name} before, the last on ${whenToMinute(verdict.since.utc)}.`,
      }
    case 'differs': {
      const size = sizeWords(mount, mark.axis, verdict.difference, verdict.sigma)
      const counts = readingUnit(mount, mark.axis) === 'counts'
      const what = counts
        ? `The ${axis} counter ${verdict.difference < 0 ? 'lost' : 'gained'} ${size} since ${whenToMinute(verdict.since.utc)}.`
        : `The ${axis} reads ${size} ${verdict.difference < 0 ? 'less' : 'more'} than on ${whenToMinute(verdict.since.utc)}.`
      const between =
        verdict.sightingsBetween === 0
          ? 'No sighting falls in between.'
          : `${countOf(verdict.sightingsBetween, 'sighting')} in between ${verdict.sightingsBetween === 1 ? 'is' : 'are'} in doubt: ${betweenWords(verdict.between!)}.`
      return { differs: true, text: `${what} ${between}` }
    }
    case 'outside':
      return { differs: false, text: 'The jack cannot be at this reading: its triangle does not close there.' }
  }
}

/** "the one of 24 Oct 2026, 10:30 UTC", "from … to …" */
const betweenWords = ({ firstUtc, lastUtc }: { firstUtc: string; lastUtc: string }): string =>
  firstUtc === lastUtc
    ? `that of ${whenToMinute(firstUtc)}`
    : `from ${whenToMinute(firstUtc)} to ${whenToMinute(lastUtc)}`

const feedName = (station: StationRecord, id: string): string =>
  safeText(station.feeds.find(f => f.id === id)?.name ?? id)

/** What may have moved, the likeliest first: its name in the file, in plain words, with an example. */
export function changeOptions(station: StationRecord): { value: string; word: string }[] {
  const values = ['lower-axis', 'lower-zero', 'upper-zero', 'lower-readout', 'upper-readout', 'dish']
  const all = [...values, ...station.feeds.map(f => `feed:${f.id}`), 'tube', 'all']
  return all.map(value => ({ value, word: changeWord(station, value) }))
}

/** What a family of parameters is called; those of an axis are named after it. */
const FAMILIES: Readonly<Record<Exclude<Family, 'feed' | 'squint'>, (axis: string) => string>> = {
  heading: () => 'heading',
  level: () => 'level',
  lean: () => 'lean of the azimuth axis',
  pole: () => 'direction of the polar axis',
  zero: axis => `${axis} zero`,
  scale: axis => `${axis} scale`,
  arms: axis => `${axis} jack’s arms`,
  play: () => 'play',
  tube: () => 'sighting tube',
  dish: () => 'dish on its mount',
}

/** One word for a group of parameters that stay or go together. */
function groupOf(station: StationRecord, { id, feed }: Unknown): string {
  const { family, axis } = entryOf(id)
  if (feed !== null || family === 'feed' || family === 'squint')
    return station.feeds.length === 1 || feed === null ? 'feed' : `feed ${feedName(station, feed)}`
  return FAMILIES[family](axis ? axisName(station.mount, axis) : '')
}

/** What carries over: two lists and a count, each a sentence. */
/** @param returnsTo  a named position that is known from before */
export function carryWords(
  station: StationRecord,
  c: CarryOver,
  returnsTo: string | null = null,
): { stays: string; anew: string; needed: string } {
  const groups = (list: Unknown[]) => [...new Set(list.map(p => groupOf(station, p)))]
  const [stays, anew] = [groups(c.stays), groups(c.anew)]
  if (returnsTo !== null)
    return {
      stays: `Stays: ${listed(stays)}.`,
      anew: `Starts from what was known at “${safeText(returnsTo)}”: ${listed(anew)}.`,
      needed: 'One sighting after it will be needed, to check it.',
    }
  return {
    stays: stays.length === 0 ? 'Nothing stays.' : `Stays: ${listed(stays)}.`,
    anew: anew.length === 0 ? 'Nothing starts again: no sighting has used it yet.' : `Starts again: ${listed(anew)}.`,
    needed:
      c.sightingsNeeded === 0
        ? ''
        : `${countOf(c.sightingsNeeded, 'sighting')} after it will be needed${c.sightingsNeeded === 1 ? ', to check it' : ''}.`,
  }
}

/** "Mount turned clockwise, seen from above" */
export const unknownLabel = (station: StationRecord, id: string): string =>
  capital(
    labelOf(splitPriorId({ id, value: 0, sigma: 1 }).id as ParameterId, {
      kind: station.mount.kind,
      latitude: radFromDeg(station.site.latDeg),
    }),
  )

/** "1.9 ± 0.6°" */
export const expectedValueWords = (e: Pick<PriorRecord, 'id' | 'value' | 'sigma'>): string => {
  const unit = unitOf(splitPriorId(e).id as ParameterId)
  return unit === 'mm'
    ? measuredLength(e.value, e.sigma, lengthUnit()).text
    : measured(e.value, e.sigma, unit === 'deg' ? '°' : '').text
}

/** The same in a few words, for the list. */
export function verdictShort(mount: MountRecord, mark: ReferenceRecord, verdict: MarkVerdict): string {
  switch (verdict.kind) {
    case 'first':
      return 'first reading'
    case 'first-since':
      return 'first since its readout was reset'
    case 'agrees':
      return 'agrees'
    case 'differs':
      return `${sizeWords(mount, mark.axis, verdict.difference, verdict.sigma)} ${verdict.difference < 0 ? 'less' : 'more'} than before`
    case 'outside':
      return 'outside the jack’s triangle'
  }
}

/** A mark that was read at the start of the visit and not again. */
export const runOpenWords = (mount: MountRecord, mark: ReferenceRecord): string =>
  `${capital(readingWords(mount, mark.axis, mark.reading))} at “${safeText(mark.mark)}” on ${whenToMinute(mark.utc)}. Before you leave, drive back to it and read it again.`

export const CHANGE = {
  after: (what: string) => `Expected after it: ${what}.`,
  before: (what: string) => `Before: ${what}.`,
  by: 'By',
  byHowMuch: 'If you know by how much',
  carries: 'What carries over',
  changeHow: 'Everything else carries on: nothing measured is lost.',
  computingBefore: 'Computing where it was before…',
  dropExpected: 'Remove this expectation',
  expected: 'Expected after it',
  give: 'Uncertainty, ±',
  keepChange: 'Note this change',
  later: (sightings: string) =>
    `${sightings} already in the book are later than this and will count for the new setup.`,
  moved: 'What moved?',
  movedHint: 'Choose as many as apply.',
  position: 'A clamp or stop with a name',
  positionWhich: 'Where does it stand now?',
  positionNone: 'No name',
  positionOther: 'Another position',
  positionName: 'Name of the position',
  positionHint: 'Such as “east”. Come back to it later, and what was known there is the start.',
  positionSigma: 'How closely you can return to it, ±',
  positionSigmaHint: 'Optional: ± 0.3° if left empty.',
  positionBefore: 'Name of the position it was in before',
  positionBeforeHint: 'Optional, such as “west”: then you can return to that one too.',
  positionRow: 'Stands at',
  positionWas: 'Stood before at',
  noBefore: 'Where it was before could not be computed: leave the amount empty; the sightings will find it.',
  noteChange: 'Note a change',
  setupSince: 'The setup since',
} as const

export const MARK = {
  closeRun: 'Before you leave, drive back to this mark and read it again: that closes the run.',
  closeIt: 'Close the run at the mark',
  runOpen: 'The run is open',
  runClosed: 'The run is closed: the counter lost nothing in between.',
  keepMark: 'Keep this reading',
  mark: 'Which mark?',
  axis: 'Which axis?',
  finer: 'How closely you can set to the mark',
  name: 'Name of the mark',
  nameHint: 'A line scribed across pivot and clevis, or where the limit switch stops it: “inner limit”.',
  sigma: 'Uncertainty of setting to the mark, ±',
  sigmaHint: 'Optional: ± 0.1° if left empty.',
  other: 'Another mark',
  read: 'Read a mark',
  visit: 'When in the visit?',
  visitBetween: 'In between',
  visitEnd: 'At the end',
  visitStart: 'At the start',
  differs:
    'The mark ties the readings before to the readings after. Note the change at the time it slipped, if you know that; otherwise at this reading.',
} as const

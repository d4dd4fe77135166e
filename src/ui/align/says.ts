/** What is said of a step of the alignment: its state, its values, what is wanted, what this dish needs. Pure. */
import type {
  AlignmentJson,
  AlignmentLimitJson,
  AlignmentStepJson,
  AlignmentValueJson,
} from '../../core/alignment/json.ts'
import type { Need, NotFor, UndoneBy, ValueKind } from '../../core/alignment/step.ts'
import type { Axis, MountRecord, StationRecord } from '../../core/records/fieldbook.ts'
import { instantMs } from '../../core/records/instant.ts'
import {
  countOf,
  fixed,
  lengthUnit,
  measured,
  measuredLength,
  NBSP,
  roughDegrees,
  safeText,
  utcDate,
} from '../kit/format.ts'
import { levelName } from '../kit/mount/words.ts'
import { axisName, capital, listed, readingUnit } from '../kit/phrases.ts'
import { STEP_NAMES } from '../kit/stepnames.ts'
import { SUSPECT_WORDS } from '../kit/suspectwords.ts'
import { whyNotWords } from '../kit/whynotwords.ts'

const dated = (utc: string | null): string => (utc === null ? '' : `, ${utcDate(instantMs(utc))}`)

/** The state in a word or two. */
export function stateWord(step: AlignmentStepJson): string {
  const { state, needs } = step
  switch (state.kind) {
    case 'not-begun':
      return 'Not started'
    case 'needs': {
      const n = needs.reduce((a, x) => a + (x.n ?? 0), 0)
      if (needs.every(x => x.what === 'finer')) return 'Too rough'
      return n > 0 ? `Needs${NBSP}${n}${NBSP}more` : 'Open'
    }
    case 'done':
      return 'Done'
    case 'off':
      return 'Outside'
    case 'entered':
      return 'As entered'
    case 'covered':
      return 'Not needed'
    case 'undone':
      return 'Undone'
    case 'left-out':
      return 'Left out'
    case 'not-for':
      return state.why === 'offset-fed' ? 'Not for this dish' : 'Not for this mount'
  }
}

const NOT_FOR: Readonly<Record<NotFor, string>> = {
  'mast-in-axis': 'Not for this mount: its axis is levelled instead, in the next step.',
  'no-counts': 'Not for this mount: no axis counts pulses, so none can lose any.',
  'offset-fed':
    'Not for this dish: with an offset feed neither the shadow nor the rim shows where the beam points. Everything else works by the beam.',
}

const undoneWords = (station: StationRecord, by: UndoneBy): string => {
  switch (by.kind) {
    case 'change':
      return `undone by the change of ${utcDate(instantMs(by.utc))}: ${changed(station, by.what)}`
    case 'numbers':
      return 'the solution has moved away from those numbers since'
    case 'age':
      return 'a clock check counts for a day: compare it again before you sight'
  }
}

/** What a change named, in a few words. */
function changed(station: StationRecord, what: readonly string[]): string {
  const { mount } = station
  const one = (name: string): string => {
    const [, axis, part] = /^(lower|upper)-(axis|zero|readout)$/.exec(name) ?? []
    if (part === 'axis') return 'the base was moved'
    if (part === 'zero') return `the ${axisName(mount, axis as Axis)} zero was altered`
    if (part === 'readout') return `the ${axisName(mount, axis as Axis)} readout was altered`
    if (name === 'dish') return 'the dish was moved on its mount'
    if (name === 'tube') return 'the sighting tube was moved'
    return name.startsWith('feed:') ? 'the feed was moved' : 'everything may have moved'
  }
  return listed([...new Set(what.map(one))])
}

/** The state in one sentence, where there is more to say than its word. */
export function stateSays(station: StationRecord, step: AlignmentStepJson): string {
  const { state } = step
  switch (state.kind) {
    case 'not-begun':
      return 'Not started.'
    case 'needs':
      return 'Started, not finished.'
    case 'done':
      return `Done${dated(state.utc)}.`
    case 'off':
      return step.id === 'verify'
        ? 'It has moved: see what, and from which day on.'
        : `Measured${dated(state.utc)}, and outside what this dish needs.`
    case 'entered':
      return `As entered${dated(state.utc)}. Nothing measured confirms it yet; the first sightings will.`
    case 'covered':
      return step.id === 'bolts'
        ? 'Not needed: the program has the numbers and corrects for it.'
        : step.id === 'search'
          ? 'Not needed: the Sun should be in the beam without a search.'
          : 'Not needed any more: the sightings keep the beam within what you allow, whatever this is.'
    case 'undone':
      return `${state.was === null ? 'Done before' : `Done ${utcDate(instantMs(state.was))}`}, ${undoneWords(station, state.by)}.`
    case 'left-out':
      return `Left out${dated(state.utc)}${state.note === '' ? '.' : `: ${safeText(state.note)}`}`
    case 'not-for':
      return NOT_FOR[state.why]
  }
}

/** What is wanted, in a few words each. */
export function needWords(station: StationRecord, need: Need): string {
  const { mount } = station
  switch (need.what) {
    case 'clock-check':
      return 'a clock check'
    case 'level':
      return need.again
        ? `${lowered(levelName(mount, need.level))} again: two readings disagree`
        : lowered(levelName(mount, need.level))
    case 'mark': {
      const mark = need.mark === null ? '' : ` “${safeText(need.mark)}”`
      return need.again
        ? `the mark${mark} on the ${axisName(mount, need.axis)} axis again, after driving`
        : `a mark on the ${axisName(mount, need.axis)} axis${need.mark === null ? '' : `, such as${mark}`}`
    }
    case 'finer':
      return `${lowered(measuredThing(mount, need.value))} measured more closely`
    case 'readout':
      return `what ${axisName(mount, need.axis)} shows`
    case 'calibration':
      return `a calibration of ${axisName(mount, need.axis)}`
    case 'heading':
      return 'a heading'
    case 'rim':
      return 'distances from the rim'
    case 'shadow':
      return 'a shadow'
    case 'signal':
      return 'the Sun, heard once'
    case 'sighting':
      return `${countOf(need.n ?? 1, 'sighting')} more`
    case 'step':
      return `the step “${STEP_NAMES[need.step]}” first`
    case 'verdict':
      return need.whyNot.kind === 'suspect'
        ? `an answer to: ${SUSPECT_WORDS[need.whyNot.suspect]}`
        : need.whyNot.kind === 'loss'
          ? 'more sightings: too much is still lost'
          : lowered(whyNotWords(need.whyNot, ''))
    case 'turn':
      return need.n === 1 ? 'one thing to turn' : `${need.n} things to turn`
    case 'visit':
      return 'sightings of another day'
    case 'carry':
      return 'the numbers, in your program'
  }
}

/** "X axis" stays. */
const lowered = (text: string): string => (/^[A-Z]\b/.test(text) ? text : text.charAt(0).toLowerCase() + text.slice(1))

/** What is measured where a value is not fine enough. */
const measuredThing = (mount: MountRecord, v: ValueKind): string =>
  v.of === 'feed' ? 'the feed’s place' : thingName(mount, v)

/** What of it the value says, where its name alone does not. */
const SAYS_OF: Readonly<Partial<Record<ValueKind['of'], string>>> = {
  clock: ', phone ahead',
  level: ', off by',
  mark: ', difference',
}

/** What a value is of, and what of it. */
export const valueName = (mount: MountRecord, v: ValueKind): string => `${thingName(mount, v)}${SAYS_OF[v.of] ?? ''}`

function thingName(mount: MountRecord, v: ValueKind): string {
  switch (v.of) {
    case 'clock':
      return 'Clock'
    case 'lean':
      return 'Lean of the mast'
    case 'level':
      return `${capital(axisName(mount, v.level === 'lower-axis-elevation' ? 'lower' : 'upper'))} axis`
    case 'mark':
      return `“${safeText(v.mark)}”`
    case 'readout':
      return `${capital(axisName(mount, v.axis))} readout`
    case 'heading':
      return mount.kind === 'ha-dec'
        ? 'Polar axis, east or west'
        : mount.kind === 'el-over-az'
          ? 'Azimuth zero'
          : 'Heading'
    case 'feed':
      return 'Feed off the axis'
    case 'search':
      return 'Error over the Moon’s path'
    case 'sightings':
      return 'Sightings used'
    case 'error':
      return 'Error left'
    case 'as-entered':
      return 'Error by the entered numbers alone'
    case 'unseen':
      return 'Largest move that could still be hidden'
    case 'carried':
      return 'Moved since it was carried over'
  }
}

/** A number of a value's own kind, with its σ. */
function numberWords(
  station: StationRecord,
  v: Pick<AlignmentValueJson, 'unit'> & { axis?: Axis },
  value: number,
  sigma: number | null,
): string {
  switch (v.unit) {
    case 'deg':
      return sigma === null ? roughDegrees(value) : measured(value, sigma, '°').text
    case 'mm':
      return measuredLength(value, sigma, lengthUnit()).text
    case 's':
      return measured(value, sigma, 's', Math.abs(value) < 10 ? 1 : 0).text
    case 'reading':
      return measured(value, sigma, readingUnit(station.mount, v.axis ?? 'lower') === 'degrees' ? '°' : 'counts', 0)
        .text
    case 'sightings':
      return fixed(value, 0)
  }
}

const axisOf = (v: AlignmentValueJson | AlignmentLimitJson): { axis?: Axis } => ('axis' in v ? { axis: v.axis } : {})

/** "0.3 ± 0.2°"; where only σ is known "± 0.2°". Beyond half a circle: no number, it may be anywhere. */
export function alignmentValueText(station: StationRecord, v: AlignmentValueJson): string {
  const of = { unit: v.unit, ...axisOf(v) }
  if (v.unit === 'deg' && v.of !== 'heading' && v.value !== null && Math.abs(v.value) > 90) return 'anywhere'
  if (v.value !== null) return numberWords(station, of, v.value, v.sigma)
  return v.sigma === null ? 'as entered' : `±${NBSP}${numberWords(station, of, v.sigma, null)}`
}

/** Inside or not, and where that cannot be told what would settle it. */
export function insideSays(station: StationRecord, v: AlignmentValueJson): string | null {
  if (v.tolerance === null || v.inside === null) return null
  const of = { unit: v.unit, ...axisOf(v) }
  const allowed = numberWords(station, of, v.tolerance, null)
  if (v.inside === 'inside') return `inside ${allowed}`
  if (v.inside === 'outside') return `outside ${allowed}`
  return v.sigmaWanted === null
    ? `too uncertain to compare with ${allowed}`
    : `allowed ${allowed}; to judge that, measure to ±${NBSP}${numberWords(station, of, v.sigmaWanted, null)} or better`
}

/** The line beside a step's name: its weightiest value, or what it needs. */
export function stepLineSays(station: StationRecord, step: AlignmentStepJson): string {
  const { state, needs, values } = step
  if (state.kind === 'left-out') return state.note === '' ? '' : safeText(state.note)
  if (state.kind === 'not-for' || state.kind === 'covered') return ''
  const worst = values.find(v => v.inside === 'outside') ?? values.find(v => v.inside === 'cannot-tell') ?? values[0]
  const said = worst === undefined ? '' : alignmentValueText(station, worst)
  const date =
    state.kind === 'done' || state.kind === 'off' || state.kind === 'entered' ? dated(state.utc).replace(/^, /, '') : ''
  if (state.kind === 'undone') return `${undoneWords(station, state.by)}`
  if (needs.length > 0 && !needs.every(n => n.what === 'finer')) return listed(needs.map(n => needWords(station, n)))
  return [said, date].filter(x => x !== '').join(', ')
}

/** What this dish needs, as rows: what, and how much of it. */
export function limitRows(station: StationRecord, step: AlignmentStepJson): { label: string; value: string }[] {
  const { mount } = station
  const name = (l: AlignmentLimitJson): string => {
    switch (l.of) {
      case 'clock':
        return 'Clock, known to'
      case 'site':
        return 'Place, latitude and longitude within'
      case 'lean':
        return 'Lean of the mast, below'
      case 'level':
        return `${capital(axisName(mount, l.level === 'lower-axis-elevation' ? 'lower' : 'upper'))} axis, within`
      case 'mark':
        return `${capital(axisName(mount, l.axis))} counter, lost or gained less than`
      case 'readout':
        return `${capital(axisName(mount, l.axis))} readout, known to`
      case 'heading':
        return mount.kind === 'ha-dec' ? 'Polar axis east or west, within' : 'Heading, known to'
      case 'feed':
        return 'Feed off the axis by less than'
      case 'sighting':
        return 'Each sighting, to about'
      case 'beam':
        return 'Where the beam points, known to'
      case 'carried':
        return 'Numbers, moved by less than'
      case 'error':
        return 'Error over the Moon’s path, below'
    }
  }
  return step.limits.map(l => ({
    label: name(l),
    value:
      l.of === 'site'
        ? `${numberWords(station, l, l.limit, null)} (${fixed(111 * l.limit, 0)}${NBSP}km)`
        : numberWords(station, { unit: l.unit, ...axisOf(l) }, l.limit, null),
  }))
}

/** Where the limits come from, in one sentence. */
export const shareSays = (a: AlignmentJson): string =>
  `A beam of ${roughDegrees(a.beamwidthDeg)} and ${fixed(a.echoLossDb, 1)}${NBSP}dB allowed on your own echoes leave ${roughDegrees(a.toleranceDeg)} in all, ${roughDegrees(a.shareDeg)} for one step.`

/**
 * What a person left empty in the form of a station, filled in so that it can be kept, and marked as a guess in the record.
 * A guess made before stays the same number as long as what it was made from does. Pure.
 */
import { AXES } from '../../core/mount/names.ts'
import type { Axis, MountKind, ReadoutRecord, StationRecord } from '../../core/records/fieldbook.ts'
import { GUESSES, type Guess } from '../../core/records/guesses.ts'
import {
  FOCAL_GUESS,
  HEIGHT_GUESS,
  headingGuess,
  jackGuess,
  type Limits,
  limitsGuess,
  type SomeJack,
} from '../../core/records/guessing.ts'
import { isLoose, type Loose } from '../../core/records/loose.ts'
import type { FormShape } from './fields.ts'
import { at, put } from './paths.ts'

/** A number that may be left empty because a guess stands in for it. */
export const isGuessable = (path: string): boolean => (GUESSES as readonly string[]).includes(path)

/** Fills what is missing in `record`, and writes its `guesses`. Where a number cannot be read (`atField`) nothing is put. */
export function fillGuesses(
  form: FormShape,
  record: Loose,
  before: { station: StationRecord; texts: FormShape['texts'] } | null,
  atField: Readonly<Record<string, string>>,
): void {
  const guesses: Partial<Record<Guess, true>> = {}
  /** True while all that a guess rests on is as it was. */
  const stands = (path: Guess, on: RegExp): boolean =>
    before?.station.guesses?.[path] === true &&
    [...new Set([...Object.keys(before.texts), ...Object.keys(form.texts)])].every(
      key => !on.test(key) || (before.texts[key] ?? '') === (form.texts[key] ?? ''),
    )
  const fill = (path: Guess, on: RegExp, value: () => unknown): void => {
    if (at(record, path) !== undefined || atField[path] !== undefined) return
    const old = stands(path, on) ? at(before!.station, path) : undefined
    put(record, path, old ?? value())
    guesses[path] = true
  }
  fill('site.heightM', /^site\.heightM$/, () => HEIGHT_GUESS)
  const fed = at(record, 'dish.fed') === 'offset' ? 'offset' : 'prime-focus'
  if (form.texts['dish.by'] !== 'depth' || (form.texts['dish.depth'] ?? '').trim() === '')
    fill('dish.focalRatio', /^dish\.(fed|by|depth)$/, () => FOCAL_GUESS[fed])
  const kind = at(record, 'mount.kind')
  const latDeg = at(record, 'site.latDeg')
  if (kind === 'az-over-el' || kind === 'x-y')
    fill('mount.headingDeg', /^mount\.kind$/, () => headingGuess(typeof latDeg === 'number' ? latDeg : 1))
  if (typeof kind === 'string' && kind !== '')
    for (const axis of AXES) {
      const unread = Object.keys(atField).some(path => path.startsWith(`mount.${axis}.`))
      if (!unread) fillAxis(kind as MountKind, axis, record, fill)
      if ((form.texts[`mount.${axis}.readout.type`] ?? '') === '') guesses[`mount.${axis}.readout`] = true
    }
  // Guesses of a newer program are left as they are.
  const unknown = Object.entries(before?.station.guesses ?? {}).filter(([path]) => !isGuessable(path))
  const all = { ...Object.fromEntries(unknown), ...guesses }
  if (Object.keys(all).length > 0) record.guesses = all
  else delete record.guesses
}

function fillAxis(
  kind: MountKind,
  axis: Axis,
  record: Loose,
  fill: (path: Guess, on: RegExp, value: () => unknown) => void,
): void {
  const own = new RegExp(`^mount\\.(kind$|${axis}\\.)`)
  const path = `mount.${axis}` as const
  const readout = at(record, `${path}.readout`)
  if (!isLoose(readout)) return
  const limits: Limits = {}
  for (const end of ['minReading', 'maxReading'] as const) {
    const reading = at(record, `${path}.${end}`)
    if (typeof reading === 'number') limits[end] = reading
  }
  if (readout.type === 'linear-counts') fill(`${path}.readout.zeroCounts`, own, () => 0)
  if (readout.type === 'jack') {
    const whole = jackGuess(kind, axis, readout as unknown as SomeJack, limits)
    for (const name of ['baseArmMm', 'rodArmMm', 'phiAtAngleZeroDeg'] as const)
      fill(`${path}.readout.${name}`, own, () => whole[name])
  }
  const wide = limitsGuess(kind, axis, at(record, `${path}.readout`) as ReadoutRecord, limits)
  for (const end of ['minReading', 'maxReading'] as const) fill(`${path}.${end}`, own, () => wide[end])
}

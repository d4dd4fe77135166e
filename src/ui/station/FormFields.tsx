/** Fields bound to the form of a station: each shows its own fault once the step was tried. */
import type { ComponentChildren } from 'preact'
import { type Guess, isGuess } from '../../core/records/guesses.ts'
import { Choice, type ChoiceOption } from '../kit/Choice.tsx'
import { NumberField, TextField } from '../kit/fields.tsx'
import { parseNumber } from '../kit/numberfield.ts'
import { general, specOf, writtenText } from './fields.ts'
import type { Read, StationForm } from './form.ts'
import { isGuessable } from './guessed.ts'
import { guessWords } from './guesswords.ts'
import { at } from './paths.ts'
import { FIELDS } from './words.ts'

export interface FormView {
  form: StationForm
  read: Read
  /** Faults are shown: the person wanted to go on. */
  tried: boolean
  /** Keys of the rows that were there then; without it, all are. A row added since is not at fault yet. */
  triedRows?: ReadonlySet<string> | null
  /** The review was open before: questions are then reached from there. */
  seen: boolean
  write: (path: string, text: string) => void
  set: (form: StationForm) => void
}

const wordsOf = (path: string) => FIELDS[general(path)] ?? FIELDS[path.split('.').at(-1)!] ?? { label: path }

export const textAt = (view: FormView, path: string): string => view.form.texts[path] ?? ''
/** The sentence for a field, if it is to be shown. */
export const faultAt = (view: FormView, path: string): string | null =>
  view.tried && !isFresh(view, path) ? (view.read.atField[path] ?? null) : null

/** Keys of all rows of a form: its feeds, its horizon, what is known. */
export const rowKeys = ({ rows }: StationForm): ReadonlySet<string> =>
  new Set(Object.values(rows).flatMap(list => list.map(row => row.key)))

/** Whether a path lies in a row that was added since the step was tried. */
const isFresh = ({ form, triedRows }: FormView, path: string): boolean =>
  triedRows != null && path.split('.').some(part => rowKeys(form).has(part) && !triedRows.has(part))

/** A fault that the field itself cannot find: a rule of the whole station. */
export function FieldFault({ children }: { children: ComponentChildren }) {
  return (
    <p class="book-fault" role="alert">
      <b>Not yet: </b>
      {children}
    </p>
  )
}

/** What an empty field is taken as, and what that costs. */
function guessHint(view: FormView, path: string): string | null {
  const { candidate, atField } = view.read
  if (atField[path] !== undefined || !isGuessable(path) || !isGuess(candidate, path as Guess)) return null
  const value = at(candidate, path)
  if (typeof value !== 'number') return null
  const { kind } = specOf(view.form, path)
  const unit = kind.unit ?? (kind.form === 'angle' ? '°' : '')
  return guessWords(
    path as Guess,
    `${writtenText(view.form, specOf(view.form, path), value)}${unit === '°' ? unit : unit && ` ${unit}`}`,
  )
}

export function NumberAt({ view, path, label, hint }: { view: FormView; path: string; label?: string; hint?: string }) {
  const words = wordsOf(path)
  const { kind } = specOf(view.form, path)
  const text = textAt(view, path)
  const fault = faultAt(view, path)
  const parsed = parseNumber(text, kind)
  const guess = guessHint(view, path)
  return (
    <div class="book-field" data-fault={fault ? '' : undefined}>
      <NumberField
        label={label ?? words.label}
        kind={kind}
        text={text}
        onText={next => view.write(path, next)}
        hint={[hint ?? (guess === null ? words.hint : null), guess].filter(Boolean).join(' ') || undefined}
        missing={parsed.kind === 'empty' ? fault : null}
        signButton={kind.form === 'latitude' || kind.form === 'longitude' || (kind.min ?? 0) < 0}
      />
      {fault && parsed.kind === 'value' && <FieldFault>{fault}</FieldFault>}
    </div>
  )
}

export function TextAt({ view, path, label, long }: { view: FormView; path: string; label?: string; long?: boolean }) {
  const words = wordsOf(path)
  const fault = faultAt(view, path)
  return (
    <div class="book-field" data-fault={fault ? '' : undefined}>
      <TextField
        label={label ?? words.label}
        text={textAt(view, path)}
        onText={next => view.write(path, next)}
        hint={words.hint}
        wrong={fault}
        {...(long && { long })}
      />
    </div>
  )
}

export interface ChoiceAtProps<T extends string> {
  view: FormView
  path: string
  label: string
  options: readonly ChoiceOption<T>[]
  long?: boolean
}

export function ChoiceAt<T extends string>({ view, path, label, options, long }: ChoiceAtProps<T>) {
  const fault = faultAt(view, path)
  const text = textAt(view, path)
  return (
    <div class="book-field" data-fault={fault ? '' : undefined}>
      <Choice
        label={label}
        options={options}
        value={options.some(o => o.value === text) ? (text as T) : null}
        onPick={value => view.write(path, value)}
        {...(long && { long })}
      />
      {fault && <FieldFault>{fault}</FieldFault>}
    </div>
  )
}

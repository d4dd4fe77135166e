/**
 * Fields to type in. The text stays the person's: fields pass on exactly what was typed, with what it was read as beside
 * it, and show that below. Nothing is corrected, rounded or emptied.
 */
import type { ComponentChildren } from 'preact'
import { localTime, seenText } from './format.ts'
import { useDocumentId } from './ids.ts'
import { type NumberKind, otherSign, type ParsedNumber, parseNumber, rangeWords } from './numberfield.ts'
import { type ParsedUtc, parseUtc } from './utcfield.ts'

/** Switches off what a phone would add: correction, suggestions, spell checking. */
const AS_TYPED = { autocomplete: 'off', autocorrect: 'off', autocapitalize: 'off', spellcheck: false } as const

interface ShellProps {
  id: string
  label: string
  wrong: boolean
  hint?: ComponentChildren
  echo: string
  children: ComponentChildren
}

/** Label above, hint and echo below, tied to the input by id, id-hint, id-echo. */
function Shell({ id, label, wrong, hint, echo, children }: ShellProps) {
  return (
    <div class={wrong ? 'field field-wrong' : 'field'}>
      <label class="field-name" for={id}>
        {label}
      </label>
      <div class="field-line">{children}</div>
      {hint && (
        <p class="field-hint" id={`${id}-hint`}>
          {hint}
        </p>
      )}
      <p class="field-echo" id={`${id}-echo`}>
        {wrong && <b>Not yet: </b>}
        {echo}
      </p>
    </div>
  )
}

interface NumberFieldProps {
  label: string
  kind: NumberKind
  text: string
  onText: (text: string, parsed: ParsedNumber) => void
  /** A button that changes the sign, or the compass letter. Default: where the range goes below zero. */
  signButton?: boolean
  /** In place of the range: "Optional." */
  hint?: ComponentChildren
  /** The number keyboard of iOS has no space and no letters: places get the full one, other fields the number keys. */
  keyboard?: 'decimal' | 'text'
  /** Shown where the form was submitted with this field empty. */
  missing?: string | null
}

const SIGN_WORDS = {
  number: '± sign',
  count: '± sign',
  angle: '± sign',
  latitude: 'N or S',
  longitude: 'E or W',
} as const

/** A number: text with the number keyboard, our own reading of it echoed below. */
export function NumberField({ label, kind, text, onText, signButton, hint, keyboard, missing }: NumberFieldProps) {
  const id = useDocumentId()
  const parsed = parseNumber(text, kind)
  const change = (next: string) => onText(next, parseNumber(next, kind))
  const place = kind.form === 'latitude' || kind.form === 'longitude'
  const degrees = place || kind.form === 'angle'
  const unit = kind.unit ?? (degrees ? '°' : undefined)
  const range = rangeWords(kind)
  const wrong =
    parsed.kind === 'not-a-number' || parsed.kind === 'out-of-range' || (parsed.kind === 'empty' && !!missing)
  const echo = parsed.kind === 'value' ? parsed.echo : parsed.kind === 'empty' ? (missing ?? '') : parsed.why
  const hintText = [range && `Allowed: ${range}.`, degrees && 'Degrees, or degrees with minutes.']
    .filter(Boolean)
    .join(' ')
  return (
    <Shell id={id} label={label} wrong={wrong} echo={echo} hint={hint ?? (hintText || undefined)}>
      <input
        id={id}
        type="text"
        inputMode={keyboard ?? (place ? 'text' : 'decimal')}
        {...AS_TYPED}
        value={text}
        aria-invalid={wrong || undefined}
        aria-describedby={`${id}-hint ${id}-echo`}
        onInput={event => change(event.currentTarget.value)}
      />
      {unit && <span class="field-unit">{unit}</span>}
      {(signButton ?? (place || (kind.min !== undefined && kind.min < 0))) && (
        <button
          type="button"
          class="field-press"
          aria-label={`${SIGN_WORDS[kind.form]}: change it in ${label}`}
          onClick={() => change(otherSign(text, kind.form))}
        >
          {SIGN_WORDS[kind.form]}
        </button>
      )}
    </Shell>
  )
}

interface TextFieldProps {
  label: string
  text: string
  onText: (text: string) => void
  hint?: ComponentChildren
  /** What is wrong with it, in a sentence. */
  wrong?: string | null
  /** Several lines. */
  long?: boolean
  maxLength?: number
}

export function TextField({ label, text, onText, hint, wrong, long = false, maxLength }: TextFieldProps) {
  const id = useDocumentId()
  const shared = {
    id,
    value: text,
    // The field takes the direction of what is written in it.
    dir: 'auto',
    spellcheck: false,
    autocomplete: 'off',
    'aria-invalid': wrong ? true : undefined,
    'aria-describedby': `${id}-hint ${id}-echo`,
    ...(maxLength === undefined ? {} : { maxLength }),
  } as const
  return (
    <Shell id={id} label={label} wrong={!!wrong} echo={wrong ?? ''} hint={hint}>
      {long ? (
        <textarea {...shared} onInput={event => onText(event.currentTarget.value)} />
      ) : (
        <input type="text" {...shared} onInput={event => onText(event.currentTarget.value)} />
      )}
    </Shell>
  )
}

interface UtcFieldProps {
  label: string
  text: string
  onText: (text: string, parsed: ParsedUtc) => void
  /** Any instant of the day that a time alone belongs to. */
  dayMs?: number
  /** A button that puts the present time in; the caller writes the text. */
  onNow?: () => void
  hint?: ComponentChildren
}

/** An instant in UTC. */
export function UtcField({ label, text, onText, dayMs, onNow, hint }: UtcFieldProps) {
  const id = useDocumentId()
  const parsed = parseUtc(text, dayMs)
  const wrong = parsed.kind === 'not-a-time'
  const local = parsed.kind === 'value' ? localTime(parsed.utcMs) : ''
  const echo =
    parsed.kind === 'value' ? parsed.echo + (local && ` (${local})`) : parsed.kind === 'empty' ? '' : parsed.why
  const how =
    dayMs === undefined ? 'In UTC, like 2026-04-27 20:14:05.' : 'In UTC, like 20:14:05, or with the date before it.'
  return (
    <Shell id={id} label={label} wrong={wrong} echo={echo} hint={hint ?? how}>
      <input
        id={id}
        type="text"
        class="field-utc"
        {...AS_TYPED}
        value={text}
        aria-invalid={wrong || undefined}
        aria-describedby={`${id}-hint ${id}-echo`}
        onInput={event => onText(event.currentTarget.value, parseUtc(event.currentTarget.value, dayMs))}
      />
      {onNow && (
        <button type="button" class="field-press" onClick={onNow}>
          Now
        </button>
      )}
    </Shell>
  )
}

interface ConfirmByTypingProps {
  /** The name to type, as it is shown. */
  name: string
  /** What will happen: "Deletes the station and its 17 sightings from this phone." */
  what: ComponentChildren
  /** On the button: "Delete the station". */
  word: string
  text: string
  onText: (text: string) => void
  onConfirm: () => void
}

/** Two Unicode spellings of one name are the same name; spaces round it do not count. Invisible characters may be typed as shown. */
export function isSameName(typed: string, name: string): boolean {
  const bare = (text: string) => text.trim().normalize('NFC')
  return bare(typed) === bare(name) || bare(typed) === bare(seenText(name))
}

/** For what cannot be undone: the name is typed before the button works. */
export function ConfirmByTyping({ name, what, word, text, onText, onConfirm }: ConfirmByTypingProps) {
  const same = isSameName(text, name)
  return (
    <form
      class="confirm"
      onSubmit={event => {
        event.preventDefault()
        if (same) onConfirm()
      }}
    >
      <div>{what}</div>
      <p>
        To do it, type its name: <bdi class="confirm-name">{seenText(name)}</bdi>
      </p>
      <TextField label="Name" text={text} onText={onText} />
      <button type="submit" class="second second-stop" disabled={!same}>
        {word}
      </button>
    </form>
  )
}

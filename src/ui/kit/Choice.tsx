/** One of a few words: a radio group with whole words on large plates; arrows move, space picks. */
import type { ComponentChildren } from 'preact'
import { useDocumentId } from './ids.ts'

export interface ChoiceOption<T extends string> {
  value: T
  word: ComponentChildren
  /** A line in the second size under the word. */
  note?: ComponentChildren
  disabled?: boolean
}

interface ChoiceProps<T extends string> {
  label: string
  options: readonly ChoiceOption<T>[]
  /** null: nothing picked yet. */
  value: T | null
  onPick: (value: T) => void
  /** One below the other: for long words. */
  long?: boolean
  hint?: ComponentChildren
}

export function Choice<T extends string>({ label, options, value, onPick, long = false, hint }: ChoiceProps<T>) {
  const name = useDocumentId()
  return (
    <fieldset class="field">
      <legend>{label}</legend>
      <div class={long ? 'choice-list choice-long' : 'choice-list'}>
        {options.map(option => (
          <label class="choice-one" key={option.value}>
            <input
              type="radio"
              name={name}
              value={option.value}
              checked={option.value === value}
              disabled={option.disabled}
              onChange={() => onPick(option.value)}
            />
            <span>
              {option.word}
              {option.note && <small>{option.note}</small>}
            </span>
          </label>
        ))}
      </div>
      {hint && <p class="field-hint">{hint}</p>}
    </fieldset>
  )
}

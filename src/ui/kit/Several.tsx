/** Several of a few words: plates like those of `Choice`, each on or off. */
import { useDocumentId } from './ids.ts'

export function Several(p: {
  label: string
  hint?: string
  options: readonly { value: string; word: string }[]
  picked: readonly string[]
  onPick: (picked: string[]) => void
}) {
  const name = useDocumentId()
  const toggled = (value: string) =>
    p.picked.includes(value) ? p.picked.filter(v => v !== value) : [...p.picked, value]
  return (
    <fieldset class="field">
      <legend>{p.label}</legend>
      <div class="choice-list choice-long">
        {p.options.map(option => (
          <label class="choice-one" key={option.value}>
            <input
              type="checkbox"
              name={name}
              checked={p.picked.includes(option.value)}
              onChange={() => p.onPick(toggled(option.value))}
            />
            <span>{option.word}</span>
          </label>
        ))}
      </div>
      {p.hint && <p class="field-hint">{p.hint}</p>}
    </fieldset>
  )
}

/** Values read off an instrument, each a button that fills the field touched last. */
import { fillIn, touchedField } from './filling.ts'
import { REHEARSE } from './words.ts'

interface FillProps {
  values: readonly { word: string; text: string }[]
}

export function Fill({ values }: FillProps) {
  return (
    <>
      <div class="seconds">
        {values.map(({ word, text }) => (
          <button
            key={word}
            type="button"
            class="second"
            // The field on the screen keeps the focus.
            onMouseDown={event => event.preventDefault()}
            onClick={() => fillIn(text.replace('\u2212', '-'))}
          >
            {word} <strong>{text}</strong>
          </button>
        ))}
      </div>
      {touchedField.value === null && <p class="text-2">{REHEARSE.fill}</p>}
    </>
  )
}

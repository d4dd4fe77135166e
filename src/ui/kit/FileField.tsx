/** A file is chosen: any file, since phones know no ending for a field book. */
import { BRING } from '../book/words.ts'

/** Any file: phones know no ending for a field book. */
export function FileField(p: { onFile: (file: File) => void; word?: string; hint?: string | null }) {
  const { onFile, word = BRING.file, hint = BRING.fileHint } = p
  return (
    <div class="field">
      <label class="book-file">
        <span>{word}</span>
        <input
          type="file"
          onChange={event => {
            const file = event.currentTarget.files?.[0]
            event.currentTarget.value = '' // the same file again is a new choice
            if (file) onFile(file)
          }}
        />
      </label>
      {hint !== null && <p class="field-hint">{hint}</p>}
    </div>
  )
}

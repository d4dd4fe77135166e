/** A file is chosen: any file, since phones know no ending for a field book. */
import { BRING } from '../words/book.ts'

/** Any file: phones know no ending for a field book. */
export function FileField({ onFile }: { onFile: (file: File) => void }) {
  return (
    <div class="field">
      <label class="book-file">
        <span>{BRING.file}</span>
        <input
          type="file"
          onChange={event => {
            const file = event.currentTarget.files?.[0]
            event.currentTarget.value = '' // the same file again is a new choice
            if (file) onFile(file)
          }}
        />
      </label>
      <p class="field-hint">{BRING.fileHint}</p>
    </div>
  )
}

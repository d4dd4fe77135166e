/** Any file: phones know no ending for a field book. */
export function FileField(p: { onFile: (file: File) => void; word?: string; hint?: string | null }) {
  const { onFile, word = FILE_FIELD.file, hint = FILE_FIELD.hint } = p
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

const FILE_FIELD = {
  file: 'Choose a file',
  hint: 'Any file that holds a field book; its ending does not matter.',
} as const

/** A receiver's log, pasted or from a file: what was read of it, and every line that was not. */

import { TextField, UtcField } from '../parts/fields.tsx'
import { Notice } from '../parts/Notice.tsx'
import { Text } from '../parts/numbers.tsx'
import { type DriftForm, logOf } from '../scanform.ts'
import { DRIFT } from '../words/scan.ts'
import { badLineWords, pastedWords } from '../words/scansays.ts'
import { FileField } from './FileField.tsx'

/** Bad lines said one by one; of the rest only how many. */
const MOST = 8

export function PastedLog({ form, set }: { form: DriftForm; set: (change: Partial<DriftForm>) => void }) {
  const log = logOf(form)
  return (
    <>
      <UtcField label={DRIFT.startUtc} text={form.start} onText={start => set({ start })} hint={DRIFT.startHint} />
      <TextField label={DRIFT.text} long text={form.text} onText={text => set({ text })} hint={DRIFT.textHint} />
      <FileField onFile={file => void file.text().then(text => set({ text }))} word={DRIFT.file} hint={null} />
      {log !== null && log.samples.length > 0 && <Text>{pastedWords(log)}</Text>}
      {log !== null && (log.bad.length > 0 || log.samples.length === 0) && (
        <Notice state="look-out" live="status">
          {log.samples.length === 0 && <p>{pastedWords(log)}</p>}
          {log.bad.slice(0, MOST).map(bad => (
            <p key={bad.line}>{badLineWords(bad)}</p>
          ))}
          {log.bad.length > MOST && <p>{DRIFT.moreBad(log.bad.length - MOST)}</p>}
        </Notice>
      )}
    </>
  )
}

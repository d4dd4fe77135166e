/** A receiver's log, pasted or from a file: what was read of it, and every line that was not. */
import { readLog } from '../../state/scanlog.ts'
import { FileField } from '../kit/FileField.tsx'
import { UtcField } from '../kit/fields.tsx'
import { LongTextField } from '../kit/LongTextField.tsx'
import { Notice } from '../kit/Notice.tsx'
import { Text } from '../kit/numbers.tsx'
import { type DriftForm, logOf } from './form.ts'
import { badLineWords, pastedWords } from './says.ts'
import { DRIFT } from './words.ts'

/** Bad lines shown one by one; the rest are counted. */
const MOST = 8

export function PastedLog({ form, set }: { form: DriftForm; set: (change: Partial<DriftForm>) => void }) {
  const read = logOf(form, readLog)
  const log = read === 'reading' ? null : read
  return (
    <>
      <UtcField label={DRIFT.startUtc} text={form.start} onText={start => set({ start })} hint={DRIFT.startHint} />
      <LongTextField label={DRIFT.text} text={form.text} onText={text => set({ text })} hint={DRIFT.textHint} />
      <FileField onFile={file => void file.text().then(text => set({ text }))} word={DRIFT.file} hint={null} />
      {read === 'reading' && <p role="status">{DRIFT.reading}</p>}
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

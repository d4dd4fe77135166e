/** A new version waits for the person. Only on Now and under Ready, never while something is measured. */
import { useState } from 'preact/hooks'
import { applyUpdate, updateOffered } from '../../state/service.ts'
import { Second } from './buttons.tsx'
import { Notice } from './Notice.tsx'
import { Text } from './numbers.tsx'
import { UPDATE } from './phrases.ts'

export function UpdateNotice() {
  const [said, setSaid] = useState<string | null>(null)
  if (!updateOffered.value) return null
  return (
    <Notice state="next" word={UPDATE.there}>
      <Text>{UPDATE.why}</Text>
      <Second onPress={() => setSaid(applyUpdate() === 'measuring' ? UPDATE.later : null)}>{UPDATE.act}</Second>
      <p role="status">{said}</p>
    </Notice>
  )
}

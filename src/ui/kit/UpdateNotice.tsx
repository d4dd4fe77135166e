/**
 * A new version waits for the person, or the newest did not start. Only on Now and under Ready, never while something is
 * measured.
 */
import { useState } from 'preact/hooks'
import { applyUpdate, fellBack, tryNewest, updateOffered } from '../../state/service.ts'
import { SecondaryButton } from './buttons.tsx'
import { Notice } from './Notice.tsx'
import { Text } from './numbers.tsx'
import { FELL_BACK, UPDATE } from './phrases.ts'

export function UpdateNotice() {
  const [said, setSaid] = useState<string | null>(null)
  if (!updateOffered.value) return fellBack.value ? <FellBack /> : null
  return (
    <Notice state="next" word={UPDATE.there}>
      <Text>{UPDATE.why}</Text>
      <SecondaryButton onPress={() => setSaid(applyUpdate() === 'measuring' ? UPDATE.later : null)}>
        {UPDATE.act}
      </SecondaryButton>
      <p role="status">{said}</p>
    </Notice>
  )
}

function FellBack() {
  const [said, setSaid] = useState<string | null>(null)
  const again = () => {
    setSaid(FELL_BACK.busy)
    void tryNewest()
  }
  return (
    <Notice state="look-out" live="status">
      <Text>{FELL_BACK.what}</Text>
      <SecondaryButton onPress={again}>{FELL_BACK.act}</SecondaryButton>
      <p role="status">{said}</p>
    </Notice>
  )
}

/**
 * A text file handed on: the best way that this phone has is the screen's one action; the other ways, what came of it and the text
 * itself stand below.
 */
import type { ComponentChildren } from 'preact'
import { useEffect, useState } from 'preact/hooks'
import { bestWay, type HandedOn, handOn, type Parcel } from '../../state/export.ts'
import { HandedWords } from './BackupBox.tsx'
import { HAND_ON } from './backupwords.ts'
import { Action, ButtonRow, SecondaryButton } from './buttons.tsx'
import { Notice } from './Notice.tsx'
import { Name, Row, Rows } from './numbers.tsx'
import { TheText } from './TheText.tsx'

/**
 * @param parcel  null: not ready
 * @param why     said where it is not ready
 * @param about   what the file is; what came of another one is no longer said
 */
export function useHandOn(
  parcel: Parcel | null,
  why: string,
  about: string,
): { action: ComponentChildren; below: ComponentChildren } {
  const [said, setSaid] = useState<HandedOn | null>(null)
  useEffect(() => setSaid(null), [about])
  const hand = async (way: 'share' | 'copy' | 'download') => {
    if (parcel) setSaid(await handOn(way, parcel))
  }
  const best = parcel ? bestWay(parcel) : 'copy'
  const action = (
    <Action notNow={parcel ? null : why} onPress={() => void hand(best)}>
      {HAND_ON[best]}
    </Action>
  )
  if (parcel === null) return { action, below: null }
  const others = (['share', 'download', 'copy'] as const).filter(way => way !== best && (way === 'copy' || parcel[way]))
  const outcome = said?.outcome
  const below = (
    <>
      <Rows>
        <Row label={<Name>{parcel.file.name}</Name>}>{HAND_ON.size(parcel.file.size)}</Row>
      </Rows>
      <ButtonRow>
        {others.map(way => (
          <SecondaryButton key={way} onPress={() => void hand(way)}>
            {HAND_ON[way]}
          </SecondaryButton>
        ))}
      </ButtonRow>
      {said && outcome && (
        <Notice state={outcome === 'refused' ? 'stop' : outcome === 'cancelled' ? 'look-out' : 'good'} live="status">
          <HandedWords said={said} />
        </Notice>
      )}
      <TheText text={parcel.text} />
    </>
  )
  return { action, below }
}

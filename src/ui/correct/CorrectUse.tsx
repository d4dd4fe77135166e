/** One sighting: use it always, leave it out, or let the fit decide. Kept as a new revision of the sighting. */
import { useState } from 'preact/hooks'
import type { StationRecord, Use } from '../../core/records/fieldbook.ts'
import { answer } from '../../state/answer.ts'
import { faultsOfSighting, setUse } from '../../state/sightings.ts'
import { Action, ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { Choice } from '../kit/Choice.tsx'
import { CorrectFrame } from '../kit/CorrectFrame.tsx'
import { STATUS_WORDS } from '../kit/marks.ts'
import { Notice } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { Sentence, Text } from '../kit/numbers.tsx'
import { judgedSightings } from './drawings.ts'
import { CORRECT, offInSigmasWords, sightingHow, sightingWords, USE_WORDS } from './words.ts'

const USES: readonly Use[] = ['auto', 'always', 'never']

export function CorrectUse({ station, id }: { station: StationRecord; id: string }) {
  const { solution } = answer.value
  const record = station.sightings.find(s => s.id === id)
  const now: Use = record?.use ?? 'auto'
  const [picked, setPicked] = useState<Use | null>(null)
  const [isKept, setKept] = useState(false)
  const [faults, setFaults] = useState<readonly string[]>([])
  if (!record) {
    return (
      <CorrectFrame station={station} title={CORRECT.useTitle}>
        <Sentence>{CORRECT.gone}</Sentence>
      </CorrectFrame>
    )
  }
  const chosen = picked ?? now
  const judged = solution ? judgedSightings(station, solution).find(j => j.record.id === id) : undefined
  const keep = async () => {
    const broken = faultsOfSighting(station, { ...record, use: chosen }).map(f => f.rule)
    setFaults(broken)
    if (broken.length > 0) return
    const kept = await setUse(station, record, chosen)
    if (kept.kind !== 'done') return
    setPicked(null)
    setKept(true)
  }
  return (
    <CorrectFrame
      station={station}
      title={CORRECT.useTitle}
      action={
        <Action onPress={() => void keep()} notNow={chosen === now ? CORRECT.sameUse : null}>
          {CORRECT.keepUse}
        </Action>
      }
    >
      <Sentence strong>{sightingWords(record)}</Sentence>
      {judged && (
        <Text quiet>
          {sightingHow(record)}; {offInSigmasWords(judged.offDeg, judged.solved.sigmaDeg)};{' '}
          {STATUS_WORDS[judged.solved.status]}.
        </Text>
      )}
      <Choice
        label={CORRECT.useLabel}
        long
        options={USES.map(value => ({ value, ...USE_WORDS[value] }))}
        value={chosen}
        onPick={use => {
          setPicked(use)
          setKept(false)
        }}
      />
      {faults.map(rule => (
        <Notice key={rule} state="stop" live="alert">
          {rule}
        </Notice>
      ))}
      {isKept && (
        <Notice state="good" live="status">
          {CORRECT.kept}
        </Notice>
      )}
      <ButtonRow>
        <SecondaryButton onPress={() => go('sight', 'see', id)}>{CORRECT.see}</SecondaryButton>
        <SecondaryButton onPress={() => go('correct', 'left')}>{CORRECT.left}</SecondaryButton>
      </ButtonRow>
    </CorrectFrame>
  )
}

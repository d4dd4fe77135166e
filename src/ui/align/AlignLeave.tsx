/** A step left out, with the reason. */
import { useState } from 'preact/hooks'
import type { AlignmentStep } from '../../core/records/alignment.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { leaveOutStep } from '../../state/alignment.ts'
import { DemoMark } from '../kit/DemoMark.tsx'
import { TextField } from '../kit/fields.tsx'
import { KeepAction, Refused, useKeep } from '../kit/keep.tsx'
import { useKept, useRecordId } from '../kit/keptany.ts'
import { goInstead } from '../kit/navigation.ts'
import { Text } from '../kit/numbers.tsx'
import { PlaceFrame } from '../kit/PlaceFrame.tsx'
import { UnsavedNotice } from '../kit/SavedLine.tsx'
import { STEP_NAMES } from '../kit/stepnames.ts'
import { costOfLeaving } from './costs.ts'
import { ALIGN } from './words.ts'

export function AlignLeave({ station, id }: { station: StationRecord; id: AlignmentStep }) {
  const name = `align.${station.id}.${id}`
  const own = useRecordId(name, 'alignment', station.id, null)
  const [form, setForm] = useKept(name, () => ({ note: '' }))
  const [tried, setTried] = useState(false)
  const keeping = useKeep([name], own)
  const note = form.note.trim()
  const back = () => goInstead('align')
  const press = () => {
    setTried(true)
    if (note !== '') void keeping.keep(() => leaveOutStep(station, own, id, note), back)
  }
  return (
    <PlaceFrame
      present="now"
      title={ALIGN.leaveTitle(STEP_NAMES[id])}
      action={
        <KeepAction
          keeping={keeping}
          word={ALIGN.leaveNow}
          notNow={note === '' && tried ? ALIGN.noteMissing : null}
          onKeep={press}
          otherwise={back}
        />
      }
    >
      <DemoMark station={station} />
      <Text>{costOfLeaving(station.mount, id)}</Text>
      <TextField
        label={ALIGN.leaveNote}
        text={form.note}
        hint={ALIGN.leaveHint}
        onText={text => setForm({ note: text })}
      />
      <Refused why={keeping.refused} />
      <UnsavedNotice />
    </PlaceFrame>
  )
}

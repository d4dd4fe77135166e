/** What a calibration says, in rows, and the button that puts it into the station, with its undo. */
import { useState } from 'preact/hooks'
import type { Calibrated } from '../../core/calibration/calibrate.ts'
import type { Axis, PairRecord, StationRecord } from '../../core/records/fieldbook.ts'
import { takeUtc } from '../../state/ask.ts'
import { fieldBook } from '../../state/book.ts'
import { putCalibration } from '../../state/calibration.ts'
import { isStep } from '../../state/steps.ts'
import { useKeep } from '../kit/keep.tsx'
import { MOUNT } from '../kit/mount/words.ts'
import { Notice } from '../kit/Notice.tsx'
import { UndoStrip } from '../kit/undo.tsx'

/** The way into the station. `isIn`: it was put in and can be undone. */
export function usePutIn(station: StationRecord, axis: Axis) {
  const { keep, refused } = useKeep()
  const [done, setDone] = useState(false)
  const put = (calibrated: Calibrated, pairs: readonly PairRecord[]) => {
    const utc = takeUtc()
    return keep(async () => {
      const kept = await putCalibration(station, axis, calibrated, { utc, pairs })
      setDone(kept.kind === 'done')
      return kept
    })
  }
  return { put, refused, isIn: done && isStep(fieldBook.undoable.value, 'calibrate'), setDone }
}

/** What was put in, while it can still be taken back. */
export function IsIn({ onUndone }: { onUndone: () => void }) {
  return (
    <Notice state="good" word={MOUNT.applied} live="status">
      <UndoStrip of="mount" onUndone={onUndone} />
    </Notice>
  )
}

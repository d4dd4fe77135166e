/** The screen of one level, mark or change in the book: what its subject says of it, its note, and how to edit or delete it. */
import type { ComponentChildren } from 'preact'
import type { StationRecord } from '../../../core/records/fieldbook.ts'
import { fieldBook } from '../../../state/book.ts'
import { dropMountRecord, type MountEntry } from '../../../state/mountrecords.ts'
import { isStep } from '../../../state/steps.ts'
import { Action, ButtonRow, SecondaryButton } from '../buttons.tsx'
import { ifStillHere } from '../keep.tsx'
import { Notice } from '../Notice.tsx'
import { go } from '../navigation.ts'
import { Name, Text } from '../numbers.tsx'
import { UnsavedNotice } from '../SavedLine.tsx'
import { StormOpen } from '../StormOpen.tsx'
import { UndoStrip } from '../undo.tsx'
import { MountFrame } from './parts.tsx'
import { MOUNT } from './words.ts'

interface Props {
  station: StationRecord
  item: MountEntry
  title: string
  /** Where it is edited; the form of its kind unless said. */
  edit?: readonly string[]
  /** The way back unless there is something to do next. */
  action?: ComponentChildren
  children: ComponentChildren
}

export function RecordScreen({ station, item, title, edit, action, children }: Props) {
  const { kind, record } = item
  const drop = async () => {
    const where = location.hash
    if ((await dropMountRecord(station, item)).kind === 'done') ifStillHere(where, () => go('mount'))
  }
  const saved = fieldBook.saving.value
  const undoable = fieldBook.undoable.value
  return (
    <MountFrame
      station={station}
      title={title}
      action={action || <Action onPress={() => go('mount')}>{MOUNT.back}</Action>}
    >
      <UnsavedNotice />
      {saved.kind === 'saved' && isStep(undoable, 'keep-record') && undoable.subject.id === record.id && (
        <Notice state="good" word={MOUNT.kept} live="status">
          <UndoStrip of="mount" ids={[record.id]} onUndone={() => go('mount')} />
        </Notice>
      )}
      {children}
      {record.note !== undefined && (
        <Text>
          {MOUNT.note}: <Name>{record.note}</Name>
        </Text>
      )}
      <ButtonRow>
        <SecondaryButton onPress={() => go('mount', ...(edit ?? ['edit', kind, record.id]))}>
          {MOUNT.edit}
        </SecondaryButton>
        {kind !== 'change' && <StormOpen station={station} utc={record.utc} />}
        <SecondaryButton stop onPress={() => void drop()}>
          {MOUNT.remove}
        </SecondaryButton>
      </ButtonRow>
    </MountFrame>
  )
}

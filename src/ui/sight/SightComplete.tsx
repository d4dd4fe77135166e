/** A sighting typed in whole afterwards, or an old one edited. */
import { useMemo, useState } from 'preact/hooks'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { SecondaryButton } from '../kit/buttons.tsx'
import { lengthUnit } from '../kit/format.ts'
import { forget } from '../kit/keptany.ts'
import { go } from '../kit/navigation.ts'
import { RowButton, Sentence } from '../kit/numbers.tsx'
import { UnsavedNotice } from '../kit/SavedLine.tsx'
import { Screen } from '../kit/Screen.tsx'
import { emptySightForm, formOfSighting } from '../kit/sighting/form.ts'
import { UtcNow } from '../kit/UtcNow.tsx'
import { UndoStrip } from '../kit/undo.tsx'
import type { SightPart } from './SightParts.tsx'
import { instead, ownIdOf, SightWriting } from './SightWriting.tsx'
import { SIGHT } from './words.ts'

/** A sighting typed in whole, afterwards. */
export function NewSighting({ station, part }: { station: StationRecord; part?: SightPart | undefined }) {
  const [id] = useState(() => ownIdOf(`new.${station.id}`))
  const initial = useMemo(() => emptySightForm(lengthUnit()), [])
  return (
    <SightWriting
      station={station}
      title={SIGHT.newTitle}
      kept={`new.${station.id}`}
      at={['sight', 'new']}
      part={part}
      initial={initial}
      base={{ id }}
      isKept={false}
      whole
      word={SIGHT.keep}
    />
  )
}

/** An old one, edited: a new revision; the old one stays in the history. */
export function EditSighting({
  station,
  id,
  part,
}: {
  station: StationRecord
  id: string
  part?: SightPart | undefined
}) {
  const record = station.sightings.find(s => s.id === id)
  const [first] = useState(record)
  const initial = useMemo(
    () => (first ? formOfSighting(first, lengthUnit(), station.mount) : emptySightForm('mm')),
    [first],
  )
  if (!record || !first) return <SightingGone />
  return (
    <SightWriting
      station={station}
      title={SIGHT.editTitle}
      kept={`edit.${id}`}
      at={['sight', 'edit', id]}
      part={part}
      initial={initial}
      base={first}
      changes={{ kind: 'sighting', station: station.id, id }}
      isKept
      whole
      word={SIGHT.keepChanges}
      foot={
        <SecondaryButton
          onPress={() => {
            forget(`edit.${id}`)
            instead('sight', 'see', id)
          }}
        >
          {SIGHT.leaveAsIs}
        </SecondaryButton>
      }
    />
  )
}

export function SightingGone() {
  return (
    <Screen title="Sight" utc={<UtcNow />} present="sight" onGo={to => go(to)}>
      <UnsavedNotice />
      <Sentence>{SIGHT.goneSighting}</Sentence>
      <UndoStrip of="sight" />
      <RowButton label={SIGHT.all} onPress={() => go('sight', 'list')} />
    </Screen>
  )
}

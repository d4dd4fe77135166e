/** The place "Mount": which of its screens the address means. */
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { fieldBook } from '../../state/book.ts'
import { mountEntry } from '../../state/mountrecords.ts'
import { ChangeSee, MarkSee } from '../change/ChangeSee.tsx'
import { EditChange, NewChange } from '../change/LevelChange.tsx'
import { EditMark, NewMark } from '../change/LevelMark.tsx'
import { LevelClock } from '../clock/LevelClock.tsx'
import { Action } from '../kit/buttons.tsx'
import { MountRecordGone } from '../kit/mount/parts.tsx'
import { go } from '../kit/navigation.ts'
import { Sentence } from '../kit/numbers.tsx'
import { Screen } from '../kit/Screen.tsx'
import { UtcNow } from '../kit/UtcNow.tsx'
import { LevelInstrumentForm, LevelInstruments } from '../level/LevelInstruments.tsx'
import { LevelLive } from '../level/LevelLive.tsx'
import { EditLevel, LevelKinds, NewLevel } from '../level/LevelMeasure.tsx'
import { LevelMore } from '../level/LevelMore.tsx'
import { LevelReversal } from '../level/LevelReversal.tsx'
import { LevelSee } from '../level/LevelSee.tsx'
import { LEVEL } from '../level/words.ts'
import { LevelHeading } from '../north/LevelHeading.tsx'
import { LevelSunline } from '../north/LevelSunline.tsx'
import { LevelCounts } from '../swing/LevelCounts.tsx'
import { EditSwing, NewSwing } from '../swing/LevelSwing.tsx'
import { LevelList } from './MountHome.tsx'
import '../clock/clock.css'
import '../level/level.css'
import '../north/north.css'

export function MountPlace({ parts }: { parts: readonly string[] }) {
  const station = fieldBook.station.value
  const [place, a, b] = parts
  if (station === null) {
    return (
      <Screen
        title="Mount"
        utc={<UtcNow />}
        present="mount"
        onGo={id => go(id)}
        action={<Action onPress={() => go('book', 'new')}>{LEVEL.makeStation}</Action>}
      >
        <Sentence>{LEVEL.noStation}</Sentence>
      </Screen>
    )
  }
  // The screen of another record starts again: its form is its own.
  const key = `${station.id}/${parts.join('/')}`
  switch (place) {
    case 'measure':
      return a === undefined ? <LevelKinds station={station} /> : <NewLevel key={key} station={station} what={a} />
    case 'mark':
      return (
        <NewMark
          key={key}
          station={station}
          {...(a !== undefined && { visit: a })}
          {...(b !== undefined && { of: b })}
        />
      )
    case 'change':
      return (
        <NewChange
          key={key}
          station={station}
          {...(a !== undefined && { what: a })}
          {...(b !== undefined && { utc: b })}
        />
      )
    case 'live':
      return <LevelLive key={key} station={station} />
    case 'instruments':
      return a === undefined ? (
        <LevelInstruments station={station} />
      ) : (
        <LevelInstrumentForm key={key} station={station} id={a} />
      )
    case 'reversal':
      return <LevelReversal key={key} station={station} which={a ?? ''} />
    case 'more':
      return <LevelMore station={station} />
    case 'swing':
      return a === 'edit' ? (
        <EditSwing key={key} station={station} id={b ?? ''} />
      ) : (
        <NewSwing key={key} station={station} {...(a !== undefined && { axis: a })} />
      )
    case 'heading':
      return <LevelHeading key={key} station={station} />
    case 'sunline':
      return <LevelSunline key={key} station={station} />
    case 'clock':
      return <LevelClock key={key} station={station} />
    case 'counts':
      return <LevelCounts key={key} station={station} {...(a !== undefined && { axis: a })} />
    case 'see':
      return <Entry key={key} station={station} kind={a ?? ''} id={b ?? ''} />
    case 'edit':
      if (a === 'level') return <EditLevel key={key} station={station} id={b ?? ''} />
      if (a === 'reference') return <EditMark key={key} station={station} id={b ?? ''} />
      return <EditChange key={key} station={station} id={b ?? ''} />
    default:
      return <LevelList station={station} />
  }
}

/** The screen of one record, by what it is. */
function Entry({ station, kind, id }: { station: StationRecord; kind: string; id: string }) {
  const item = mountEntry(station, kind, id)
  if (item?.kind === 'level') return <LevelSee station={station} level={item.record} />
  if (item?.kind === 'reference') return <MarkSee station={station} mark={item.record} />
  if (item?.kind === 'change') return <ChangeSee station={station} change={item.record} />
  return <MountRecordGone station={station} />
}

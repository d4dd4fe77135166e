/** The place "Level": which of its screens the address means. */
import { fieldBook } from '../../state/book.ts'
import { go } from '../navigation.ts'
import { Action } from '../parts/buttons.tsx'
import { Sentence } from '../parts/numbers.tsx'
import { Screen } from '../parts/Screen.tsx'
import { UtcNow } from '../parts/UtcNow.tsx'
import { LEVEL } from '../words/level.ts'
import { EditChange, NewChange } from './LevelChange.tsx'
import { LevelClock } from './LevelClock.tsx'
import { LevelCounts } from './LevelCounts.tsx'
import { LevelHeading } from './LevelHeading.tsx'
import { LevelInstrumentForm, LevelInstruments } from './LevelInstruments.tsx'
import { LevelList } from './LevelList.tsx'
import { LevelLive } from './LevelLive.tsx'
import { EditMark, NewMark } from './LevelMark.tsx'
import { EditLevel, LevelKinds, NewLevel } from './LevelMeasure.tsx'
import { LevelMore } from './LevelMore.tsx'
import { LevelReversal } from './LevelReversal.tsx'
import { LevelSee } from './LevelSee.tsx'
import { LevelSunline } from './LevelSunline.tsx'
import { EditSwing, NewSwing } from './LevelSwing.tsx'
import './level.css'

export function LevelPlace({ parts }: { parts: readonly string[] }) {
  const station = fieldBook.station.value
  const [place, a, b] = parts
  if (station === null) {
    return (
      <Screen
        title="Level"
        utc={<UtcNow />}
        present="level"
        onGo={id => go(id)}
        action={<Action onPress={() => go('book', 'new')}>{LEVEL.makeStation}</Action>}
      >
        <Sentence>{LEVEL.noStation}</Sentence>
      </Screen>
    )
  }
  // A screen of another record starts anew: its form is its own.
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
      return <LevelSee key={key} station={station} kind={a ?? ''} id={b ?? ''} />
    case 'edit':
      if (a === 'level') return <EditLevel key={key} station={station} id={b ?? ''} />
      if (a === 'reference') return <EditMark key={key} station={station} id={b ?? ''} />
      return <EditChange key={key} station={station} id={b ?? ''} />
    default:
      return <LevelList station={station} />
  }
}

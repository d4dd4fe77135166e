/** The place "Sight": which of its screens the address means. */
import { isOffsetFed } from '../../core/records/guesses.ts'
import { fieldBook } from '../../state/book.ts'
import { stormCheckHere } from '../../state/feed.ts'
import { Action, ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { go } from '../kit/navigation.ts'
import { Sentence } from '../kit/numbers.tsx'
import { Screen } from '../kit/Screen.tsx'
import { UtcNow } from '../kit/UtcNow.tsx'
import { WAYS } from '../kit/ways.ts'
import { NoisePlace } from '../noise/NoiseList.tsx'
import { SightNoon } from '../noon/SightNoon.tsx'
import { SightNoonRead } from '../noon/SightNoonRead.tsx'
import { SightNoonSaid } from '../noon/SightNoonSaid.tsx'
import { CrossPlace } from '../scan/SightCross.tsx'
import { DriftPlace } from '../scan/SightDrift.tsx'
import { SightSearch } from '../search/SightSearch.tsx'
import { SightAxes } from '../sight/SightAxes.tsx'
import { EditSighting, NewSighting } from '../sight/SightComplete.tsx'
import { HalfPlace } from '../sight/SightHalf.tsx'
import { SightLandmark } from '../sight/SightLandmark.tsx'
import { SightList } from '../sight/SightList.tsx'
import { SightLive } from '../sight/SightLive.tsx'
import { OtherTarget } from '../sight/SightOther.tsx'
import { partOf } from '../sight/SightParts.tsx'
import { ReadingsOnly } from '../sight/SightReadings.tsx'
import { SightSee } from '../sight/SightSee.tsx'
import { SightSpeed } from '../sight/SightSpeed.tsx'
import { SightStow, SightStowEdit } from '../sight/SightStow.tsx'
import { SightTarget } from '../sight/SightTarget.tsx'
import { SightWaiting } from '../sight/SightWaiting.tsx'
import { SightWays } from '../sight/SightWays.tsx'
import { SIGHT } from '../sight/words.ts'
import { SightStorm } from '../storm/SightStorm.tsx'
import { SightStormSee } from '../storm/SightStormSee.tsx'
import { OffsetFed } from './OffsetFed.tsx'
import '../scan/scan.css'
import '../search/search.css'
import '../sight/pad.css'
import '../sight/sight.css'

export function SightPlace({ parts }: { parts: readonly string[] }) {
  const station = fieldBook.station.value
  const [what, id = '', more] = parts
  if (station === null) {
    return (
      <Screen
        title="Sight"
        utc={<UtcNow />}
        present="sight"
        onGo={place => go(place)}
        action={<Action onPress={() => go('book', 'new')}>{SIGHT.makeStation}</Action>}
      >
        <Sentence>{SIGHT.noStation}</Sentence>
        <ButtonRow>
          <SecondaryButton onPress={() => go('book', 'import')}>{WAYS.import}</SecondaryButton>
        </ButtonRow>
      </Screen>
    )
  }
  // A screen of another record begins again: its form is its own.
  const key = `${station.id}/${parts.join('/')}`
  switch (what) {
    case 'half':
      return <HalfPlace key={key} station={station} id={id} part={partOf(more)} />
    case 'waiting':
      return <SightWaiting station={station} />
    case 'new':
      return <NewSighting key={key} station={station} part={partOf(id)} />
    case 'readings':
      return <ReadingsOnly key={key} station={station} />
    case 'edit':
      return <EditSighting key={key} station={station} id={id} part={partOf(more)} />
    case 'list':
      return <SightList station={station} />
    case 'ways':
      return <SightWays station={station} />
    case 'see':
      return <SightSee key={key} station={station} id={id} />
    case 'drift':
      return <DriftPlace station={station} {...(id !== '' && { what: id })} {...(more !== undefined && { id: more })} />
    case 'cross':
      return <CrossPlace station={station} {...(id !== '' && { what: id })} {...(more !== undefined && { id: more })} />
    case 'noise':
      return <NoisePlace station={station} {...(id !== '' && { what: id })} {...(more !== undefined && { id: more })} />
    case 'noon':
      if (isOffsetFed(station)) return <OffsetFed title={WAYS.noon} present="sight" why="shadow" />
      if (id === 'read') return <SightNoonRead key={key} station={station} />
      if (id === 'said') return <SightNoonSaid key={key} station={station} id={more ?? ''} />
      return <SightNoon key={key} station={station} />
    case 'storm':
      if (id === 'see') return <SightStormSee key={key} station={station} id={more ?? ''} />
      return (
        <SightStorm key={key} station={station} check={id === 'more' ? stormCheckHere(station, more ?? '') : null} />
      )
    case 'search':
      return <SightSearch key={station.id} station={station} />
    case 'other':
      return <OtherTarget station={station} />
    case 'target':
      return <SightTarget station={station} />
    case 'axes':
      return <SightAxes key={key} station={station} />
    case 'speed':
      return <SightSpeed key={key} station={station} axis={id === 'upper' ? 'upper' : 'lower'} />
    case 'stow':
      return id === 'edit' ? <SightStowEdit key={key} station={station} /> : <SightStow station={station} />
    case 'landmark':
      return <SightLandmark key={key} station={station} />
    default:
      return <SightLive station={station} />
  }
}

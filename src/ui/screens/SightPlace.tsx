/** The place "Sight": which of its screens the address means. */
import { fieldBook } from '../../state/book.ts'
import { stormCheckHere } from '../../state/feed.ts'
import { go } from '../navigation.ts'
import { Action, Second, Seconds } from '../parts/buttons.tsx'
import { Sentence } from '../parts/numbers.tsx'
import { Screen } from '../parts/Screen.tsx'
import { UtcNow } from '../parts/UtcNow.tsx'
import { NOW } from '../words/now.ts'
import { SIGHT } from '../words/sight.ts'
import { NoisePlace } from './NoiseList.tsx'
import { EditSighting, NewSighting } from './SightComplete.tsx'
import { CrossPlace } from './SightCross.tsx'
import { DriftPlace } from './SightDrift.tsx'
import { HalfPlace } from './SightHalf.tsx'
import { SightList } from './SightList.tsx'
import { SightLive } from './SightLive.tsx'
import { SightNoon } from './SightNoon.tsx'
import { SightNoonRead } from './SightNoonRead.tsx'
import { SightNoonSaid } from './SightNoonSaid.tsx'
import { OtherTarget } from './SightOther.tsx'
import { ReadingsOnly } from './SightReadings.tsx'
import { SightSee } from './SightSee.tsx'
import { SightStorm } from './SightStorm.tsx'
import { SightStormSee } from './SightStormSee.tsx'
import { SightWaiting } from './SightWaiting.tsx'
import './sight.css'

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
        <Seconds>
          <Second onPress={() => go('book', 'bring')}>{NOW.bring}</Second>
        </Seconds>
      </Screen>
    )
  }
  // A screen of another record starts anew: its form is its own.
  const key = `${station.id}/${parts.join('/')}`
  switch (what) {
    case 'half':
      return <HalfPlace key={key} station={station} id={id} />
    case 'waiting':
      return <SightWaiting station={station} />
    case 'new':
      return <NewSighting key={key} station={station} />
    case 'readings':
      return <ReadingsOnly key={key} station={station} />
    case 'edit':
      return <EditSighting key={key} station={station} id={id} />
    case 'list':
      return <SightList station={station} />
    case 'see':
      return <SightSee key={key} station={station} id={id} />
    case 'drift':
      return <DriftPlace station={station} {...(id !== '' && { what: id })} {...(more !== undefined && { id: more })} />
    case 'cross':
      return <CrossPlace station={station} {...(id !== '' && { what: id })} {...(more !== undefined && { id: more })} />
    case 'noise':
      return <NoisePlace station={station} {...(id !== '' && { what: id })} {...(more !== undefined && { id: more })} />
    case 'noon':
      if (id === 'read') return <SightNoonRead key={key} station={station} />
      if (id === 'said') return <SightNoonSaid key={key} station={station} id={more ?? ''} />
      return <SightNoon key={key} station={station} />
    case 'storm':
      if (id === 'see') return <SightStormSee key={key} station={station} id={more ?? ''} />
      return (
        <SightStorm key={key} station={station} check={id === 'more' ? stormCheckHere(station, more ?? '') : null} />
      )
    case 'other':
      return <OtherTarget station={station} />
    default:
      return <SightLive station={station} />
  }
}

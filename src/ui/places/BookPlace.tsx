/** The place "Book": stations and everything that is kept, in and out, settings, and whether the phone is ready. */
import { useEffect, useState } from 'preact/hooks'
import { isOffsetFed } from '../../core/records/guesses.ts'
import { fieldBook } from '../../state/book.ts'
import { BookCopies } from '../book/BookCopies.tsx'
import { BookDelete } from '../book/BookDelete.tsx'
import { BookExport } from '../book/BookExport.tsx'
import { BookHistory } from '../book/BookHistory.tsx'
import { BookHome } from '../book/BookHome.tsx'
import { BookImport } from '../book/BookImport.tsx'
import { BookReady } from '../book/BookReady.tsx'
import { BookSettings } from '../book/BookSettings.tsx'
import { DishPlace } from '../dish/DishHome.tsx'
import { ReadCodes } from '../handover/ReadCodes.tsx'
import { ShowCodes } from '../handover/ShowCodes.tsx'
import { go } from '../kit/navigation.ts'
import { Sentence } from '../kit/numbers.tsx'
import { LOADING } from '../kit/phrases.ts'
import { Screen } from '../kit/Screen.tsx'
import { WAYS } from '../kit/ways.ts'
import { BookSensors } from '../level/BookSensors.tsx'
import { BookStation } from '../station/BookStation.tsx'
import { OffsetFed } from './OffsetFed.tsx'
import '../book/book.css'
import '../handover/handover.css'
import '../station/station.css'

/** The rehearsal's code is loaded when somebody rehearses. */
function RehearseLater({ what }: { what: string | undefined }) {
  const [Place, setPlace] = useState<typeof import('../rehearse/RehearsePlace.tsx').RehearsePlace | null>(null)
  const [isLost, setLost] = useState(false)
  useEffect(() => {
    import('../rehearse/RehearsePlace.tsx').then(
      m => setPlace(() => m.RehearsePlace),
      () => setLost(true),
    )
  }, [])
  if (Place) return <Place station={fieldBook.station.value} what={what} />
  return (
    <Screen title={WAYS.rehearse} present="book" onGo={id => go(id)}>
      <Sentence>{isLost ? LOADING.lost : LOADING.place}</Sentence>
    </Screen>
  )
}

export function BookPlace({ parts }: { parts: readonly string[] }) {
  const [what, first, second] = parts
  switch (what) {
    case 'new':
      return <BookStation station={null} step={first} />
    case 'edit': {
      const station = fieldBook.stations.value.find(s => s.id === first) ?? fieldBook.station.value
      return station === null ? <BookHome /> : <BookStation key={station.id} station={station} step={second} />
    }
    case 'dish': {
      const station = fieldBook.station.value
      return station === null ? (
        <BookHome />
      ) : first === 'rim' && isOffsetFed(station) ? (
        <OffsetFed title={WAYS.dish} present="book" why="rim" />
      ) : (
        <DishPlace
          station={station}
          {...(first !== undefined && { what: first })}
          {...(second !== undefined && { id: second })}
        />
      )
    }
    case 'rehearse':
      return <RehearseLater what={first} />
    case 'import':
      return <BookImport key={first} copyKey={first} />
    case 'export':
      return <BookExport key={first} first={first} />
    case 'codes':
      return <ShowCodes />
    case 'read':
      return <ReadCodes />
    case 'history':
      return <BookHistory key={first} id={first} />
    case 'copies':
      return <BookCopies />
    case 'settings':
      return <BookSettings />
    case 'ready':
      return <BookReady />
    case 'sensors':
      return <BookSensors />
    case 'delete':
      return <BookDelete />
    default:
      return <BookHome />
  }
}

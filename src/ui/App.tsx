/** The app: which screen the address means, the theme worn, and what must be said on every screen. */
import { useEffect } from 'preact/hooks'
import { fieldBook } from '../state/book.ts'
import { setMeasuring } from '../state/service.ts'
import { theme } from '../state/settings.ts'
import { go, route } from './navigation.ts'
import { Notice } from './parts/Notice.tsx'
import { Sentence } from './parts/numbers.tsx'
import { Screen } from './parts/Screen.tsx'
import { wearTheme } from './parts/theme.ts'
import { BookPlace } from './screens/BookPlace.tsx'
import { CorrectPlace } from './screens/CorrectPlace.tsx'
import { LevelPlace } from './screens/LevelPlace.tsx'
import { NowPlace } from './screens/NowPlace.tsx'
import { SightPlace } from './screens/SightPlace.tsx'
import { APP, failureWords } from './words/common.ts'

export function App() {
  const worn = theme.value
  useEffect(() => wearTheme(worn === 'auto' ? null : worn, document), [worn])
  const status = fieldBook.status.value
  const [place = 'now', ...rest] = route.value
  // Where something is measured or written down no new version may come in between.
  const isMeasuring = place === 'sight' || (place === 'level' && rest.length > 0)
  useEffect(() => setMeasuring(isMeasuring), [isMeasuring])
  if (status.kind === 'loading') {
    return (
      <Screen title={APP} present={place} onGo={id => go(id)}>
        <Sentence>Opening the book…</Sentence>
      </Screen>
    )
  }
  if (status.kind === 'failed') {
    return (
      <Screen title={APP} present={place} onGo={id => go(id)}>
        <Notice state="stop" live="alert">
          {failureWords(status.failure)}
        </Notice>
      </Screen>
    )
  }
  switch (place) {
    case 'level':
      return <LevelPlace parts={rest} />
    case 'sight':
      return <SightPlace parts={rest} />
    case 'correct':
      return <CorrectPlace parts={rest} />
    case 'book':
      return <BookPlace parts={rest} />
    default:
      return <NowPlace />
  }
}

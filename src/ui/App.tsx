/** The app: which screen the address means, the theme worn, and what must be said on every screen. */
import type { ComponentChildren, ComponentType } from 'preact'
import { useEffect, useState } from 'preact/hooks'
import { type Clash, fieldBook } from '../state/book.ts'
import { measuring } from '../state/service.ts'
import { theme } from '../state/settings.ts'
import { Action, SecondaryButton } from './kit/buttons.tsx'
import { Notice } from './kit/Notice.tsx'
import { go, type PlaceId, route } from './kit/navigation.ts'
import { Sentence } from './kit/numbers.tsx'
import { APP, LOADING, PUT_BACK } from './kit/phrases.ts'
import { Screen } from './kit/Screen.tsx'
import { standingRead } from './kit/standingread.ts'
import { wearTheme } from './kit/theme.ts'
import { NowPlace } from './now/NowPlace.tsx'
import { PlaceBoundary } from './places/PlaceBoundary.tsx'
import { isPlaceId, loadPlace, placeHeld } from './places/places.ts'
import { loadStanding, standingViews } from './places/standingviews.ts'

const onStandingRead = () => {
  standingRead.value = true
}

/** @param onDrawn  called once, when the first screen that is more than "opening" stands */
export function App({ onDrawn }: { onDrawn?: () => void }) {
  const worn = theme.value
  useEffect(() => wearTheme(worn === 'auto' ? null : worn, document), [worn])
  const status = fieldBook.status.value
  const stands = status.kind !== 'loading'
  // After the screen below: a screen that throws has not been drawn.
  useEffect(() => {
    if (stands) onDrawn?.()
  }, [stands])
  const [place = 'now', ...rest] = route.value
  if (isPlaceId(place)) void loadPlace(place) // while the book is being opened
  // Where something is being measured or typed no new version may interrupt.
  const isMeasuring = place === 'sight' || (place === 'mount' && rest.length > 0)
  useEffect(() => {
    measuring.value = isMeasuring
  }, [isMeasuring])
  if (status.kind === 'loading')
    return (
      <Bare present={place}>
        <Sentence>{LOADING.book}</Sentence>
      </Bare>
    )
  if (fieldBook.standing.value.kind !== 'database' && !standingRead.value) {
    void loadStanding()
    const views = standingViews.value
    if (views !== 'lost' && views !== null) return <views.StandingScreen present={place} />
    return (
      <Bare present={place} {...(views && { action: <Action onPress={onStandingRead}>{PUT_BACK.read}</Action> })}>
        <Notice state="stop">{views ? LOADING.notKept : LOADING.book}</Notice>
      </Bare>
    )
  }
  if (fieldBook.putBack.value)
    return (
      <Bare present={place} action={<Action onPress={() => fieldBook.seePutBack()}>{PUT_BACK.read}</Action>}>
        <Notice state="look-out" word={PUT_BACK.word} live="alert">
          <p>{PUT_BACK.what}</p>
          <p>{PUT_BACK.toDo}</p>
        </Notice>
      </Bare>
    )
  const clash = fieldBook.clash.value
  return (
    <>
      {/* The form stays as it is beneath the question. */}
      <div class="place" hidden={clash !== null}>
        <PlaceBoundary present={place} where={route.value.join('/')}>
          {isPlaceId(place) ? <Later place={place} parts={rest} /> : <NowPlace />}
        </PlaceBoundary>
      </div>
      {clash && (
        <PlaceBoundary present={place} where="clash" onBroken={() => clash.answer('back')}>
          <ClashLater clash={clash} />
        </PlaceBoundary>
      )}
    </>
  )
}

/** The question which of two versions stands; its code comes with the first one. */
function ClashLater({ clash }: { clash: Clash }) {
  const [View, setView] = useState<ComponentType<{ clash: Clash }> | null>(null)
  useEffect(() => {
    // Where it cannot be loaded nothing is decided: back to the form.
    import('./places/ClashScreen.tsx').then(
      m => setView(() => m.ClashScreen),
      () => clash.answer('back'),
    )
  }, [])
  return View && <View clash={clash} />
}

/** A place whose code may still be on its way. */
function Later({ place, parts }: { place: PlaceId; parts: readonly string[] }) {
  const held = placeHeld(place)
  if (held.kind === 'there') return <held.View parts={parts} />
  return (
    <Bare present={place}>
      {held.kind === 'loading' ? (
        <Sentence>{LOADING.place}</Sentence>
      ) : (
        <Notice state="stop" live="alert">
          <p>{LOADING.lost}</p>
          <SecondaryButton onPress={() => location.reload()}>{LOADING.again}</SecondaryButton>
        </Notice>
      )}
    </Bare>
  )
}

interface BareProps {
  present: string
  action?: ComponentChildren
  children: ComponentChildren
}
const Bare = ({ present, action, children }: BareProps) => (
  <Screen title={APP} present={present} onGo={id => go(id)} {...(action && { action })}>
    {children}
  </Screen>
)

/**
 * The screen: a title and the time above, one thing in the body, one action below it, five places at the foot; below the
 * first screen of a place the way back stands before the title.
 * On a wide window `side` stands beside the body, on a narrow one beneath it; the action is in reach of the thumb on both.
 */
import { signal } from '@preact/signals'
import type { ComponentChildren, ComponentType } from 'preact'
import { seenText } from './format.ts'
import { useDocumentId } from './ids.ts'
import { goBack, route } from './navigation.ts'
import './joined.ts'

/** What every screen shows above everything else, when there is such a thing. The app sets it. */
export const saidEverywhere = signal<readonly ComponentType[]>([])
/** The way back to the step of the alignment that led here. The alignment's room sets it. */
export const wayBack = signal<ComponentType | null>(null)

export interface PlaceLink {
  id: string
  word: string
  href: string
}

/** The five places: how it stands, gravity, the sky, what to turn, what is kept. */
const PLACES: readonly PlaceLink[] = [
  { id: 'now', word: 'Now', href: '#now' },
  { id: 'mount', word: 'Mount', href: '#mount' },
  { id: 'sight', word: 'Sight', href: '#sight' },
  { id: 'correct', word: 'Correct', href: '#correct' },
  { id: 'book', word: 'Book', href: '#book' },
]

interface PlacesBarProps {
  places?: readonly PlaceLink[]
  /** Id of the present place. */
  present: string
  /** Called instead of following the link, if given. */
  onGo?: (id: string) => void
}

function PlacesBar({ places = PLACES, present, onGo }: PlacesBarProps) {
  return (
    <nav class="places" aria-label="Places">
      {places.map(place => (
        <a
          key={place.id}
          href={place.href}
          aria-current={place.id === present ? 'page' : undefined}
          onClick={event => {
            if (!onGo) return
            event.preventDefault()
            onGo(place.id)
          }}
        >
          {place.word}
        </a>
      ))}
    </nav>
  )
}

interface ScreenProps {
  /** May be a name: shown as text, kept in its own direction. */
  title: string
  /** The right-hand slot: "20:14:05 UTC". Not announced as it ticks. */
  utc?: ComponentChildren
  children: ComponentChildren
  /** Second column where there is room; below the body where there is not. */
  side?: ComponentChildren
  /** The one action, an `<Action>`; a sentence why it cannot be done may stand above it. */
  action?: ComponentChildren
  present: string
  places?: readonly PlaceLink[]
  onGo?: (id: string) => void
}

export function Screen({ title, utc, children, side, action, present, places, onGo }: ScreenProps) {
  const titleId = useDocumentId()
  const Way = wayBack.value
  // The first screen of a place is its own address, of one part.
  const isBelow = route.value.length > 1 || route.value[0] !== present
  return (
    <div class="frame">
      <div class={`screen ${action ? 'with-action' : 'without-action'}`}>
        <header class="screen-header">
          {isBelow && (
            <button type="button" class="screen-back" onClick={() => goBack(present)}>
              <span aria-hidden="true">‹ </span>Back
            </button>
          )}
          <h1 id={titleId}>
            <bdi>{seenText(title)}</bdi>
          </h1>
          {utc !== undefined && <div class="screen-utc">{utc}</div>}
        </header>
        {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a part that scrolls must be reachable by keyboard */}
        <main class={`screen-body${side ? ' screen-two' : ''}`} aria-labelledby={titleId} tabIndex={0}>
          <div class="screen-main">
            {Way && <Way />}
            {saidEverywhere.value.map((Said, k) => (
              <Said key={k} />
            ))}
            {children}
          </div>
          {side && <div class="screen-side">{side}</div>}
        </main>
        {action && (
          <section class="screen-action" aria-label="What to do">
            {action}
          </section>
        )}
        <PlacesBar present={present} {...(places ? { places } : {})} {...(onGo ? { onGo } : {})} />
      </div>
    </div>
  )
}

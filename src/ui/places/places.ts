/**
 * The places beyond the first screen: their code is loaded when it is first needed, or once the first screen stands and
 * the page is idle, so that nothing has to wait later and a new version cannot remove a part of an open page.
 */
import { signal } from '@preact/signals'
import type { ComponentType } from 'preact'
import type { PlaceId } from '../kit/navigation.ts'
import { loadAnswer } from '../now/answerviews.ts'
import { loadStanding } from './standingviews.ts'

type View = ComponentType<{ parts: readonly string[] }>
type Held = { kind: 'loading' } | { kind: 'there'; View: View } | { kind: 'lost'; message: string }

const LOADERS: Readonly<Record<PlaceId, () => Promise<View>>> = {
  mount: () => import('./MountPlace.tsx').then(m => m.MountPlace),
  sight: () => import('./SightPlace.tsx').then(m => m.SightPlace),
  correct: () => import('./CorrectPlace.tsx').then(m => m.CorrectPlace),
  book: () => import('./BookPlace.tsx').then(m => m.BookPlace),
  reach: () => import('./ReachPlace.tsx').then(m => m.ReachPlace),
  when: () => import('./WhenPlace.tsx').then(m => m.WhenPlace),
  align: () => import('./AlignPlace.tsx').then(m => m.AlignPlace),
}
const IDS = Object.keys(LOADERS) as PlaceId[]

export const isPlaceId = (id: string): id is PlaceId => Object.hasOwn(LOADERS, id)

const held = Object.fromEntries(IDS.map(id => [id, signal<Held>({ kind: 'loading' })])) as Record<
  PlaceId,
  ReturnType<typeof signal<Held>>
>
const begun = new Map<PlaceId, Promise<void>>()

/** Starts loading a place, once. */
export function loadPlace(id: PlaceId): Promise<void> {
  const before = begun.get(id)
  if (before) return before
  const loading = LOADERS[id]().then(
    View => {
      held[id].value = { kind: 'there', View }
    },
    (error: unknown) => {
      held[id].value = { kind: 'lost', message: String(error) }
    },
  )
  begun.set(id, loading)
  return loading
}

/** The place as far as it is loaded; starts loading it. */
export function placeHeld(id: PlaceId): Held {
  void loadPlace(id)
  return held[id].value!
}

/** All of them, one after the other. Sight first: it must not keep anybody waiting. */
export async function loadOtherPlaces(): Promise<void> {
  for (const id of ['sight', ...IDS] as const) await loadPlace(id)
  await loadAnswer()
  await loadStanding()
}

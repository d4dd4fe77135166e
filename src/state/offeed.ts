/** A question about the station that is shown and the feed in use, kept answered while something watches. */
import { computed, type ReadonlySignal } from '@preact/signals'
import { type AskedOfFeed, ask, soundValue, type ValueOf, watched } from './ask.ts'
import { feedHere } from './chosenfeed.ts'

/** @param ageMs  how old an answer may be @returns null before the first answer, or while the book is at fault */
export function answeredOfFeed<K extends AskedOfFeed>(question: K, ageMs: number): ReadonlySignal<ValueOf<K> | null> {
  const asked = watched({
    about: station => ({ feed: feedHere(station) }),
    ask: (station, about) => ask(station, question, about as Parameters<typeof ask<K>>[2]),
    ageMs,
  })
  return computed(() => soundValue(asked.held.value))
}

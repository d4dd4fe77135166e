/** A question about the station that is shown and the feed in use, kept answered while something watches. */
import { computed, type ReadonlySignal } from '@preact/signals'
import { type AskedOfFeed, ask, soundValue, type ValueOf, watched } from './ask.ts'
import { fieldBook } from './book.ts'
import { feedHere } from './chosenfeed.ts'

interface Wish {
  /** How old an answer may be. */
  ageMs: number
  /** An answer for the records as they were before is none: advice that has been followed. Else it stays until the next one. */
  ofPresent?: boolean
}

/** @returns null before the first answer, or while the book is at fault */
export function answeredOfFeed<K extends AskedOfFeed>(
  question: K,
  { ageMs, ofPresent = false }: Wish,
): ReadonlySignal<ValueOf<K> | null> {
  const asked = watched({
    about: station => ({ feed: feedHere(station) }),
    ask: (station, about) => ask(station, question, about as Parameters<typeof ask<K>>[2]),
    ageMs,
  })
  return computed(() => {
    const held = asked.held.value
    return ofPresent && held.toldOf !== fieldBook.station.value ? null : soundValue(held)
  })
}

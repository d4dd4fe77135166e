/**
 * Where the person is: the hash of the address, so that the phone's own back button works and a reload stays.
 * "#sight/edit/abc" is ['sight', 'edit', 'abc'].
 */
import { computed, type ReadonlySignal, signal } from '@preact/signals'

const read = (): string => (typeof location === 'undefined' ? '' : location.hash.replace(/^#\/?/, ''))
const hash = signal(read())

if (typeof window !== 'undefined') {
  window.addEventListener('hashchange', () => {
    hash.value = read()
  })
}

/** A part that cannot be decoded is left as it stands. */
function decoded(part: string): string {
  try {
    return decodeURIComponent(part)
  } catch {
    return part
  }
}

/** The parts of the address; ['now'] when there is none. */
export const route: ReadonlySignal<readonly string[]> = computed(() => {
  const parts = hash.value
    .split('/')
    .filter(part => part !== '')
    .map(decoded)
  return parts.length === 0 ? ['now'] : parts
})

/** "#sight/edit/abc" from its parts. */
export const hrefTo = (...parts: string[]): string => `#${parts.map(encodeURIComponent).join('/')}`

export function go(...parts: string[]): void {
  location.hash = hrefTo(...parts)
}

/** The same in place of this screen: the way back does not lead to it again. */
export const goInstead = (...parts: string[]): void => location.replace(hrefTo(...parts))

/** Goes where the person came from; to `otherwise` when there is nothing behind. */
export function goBack(...otherwise: string[]): void {
  if (history.length > 1) history.back()
  else go(...otherwise)
}

/** Several names in one part of an address: a feed's own may have any character in it. */
export const partFromNames = (names: readonly string[]): string => names.map(encodeURIComponent).join(',')

export const namesFromPart = (part: string | undefined): string[] =>
  (part ?? '').split(',').flatMap(name => {
    try {
      return name === '' ? [] : [decodeURIComponent(name)]
    } catch {
      return [] // not written by us
    }
  })

/** What has code of its own beside the first screen. `when`, `reach` and `align` stand under one of the five words of the bar. */
export type PlaceId = 'mount' | 'sight' | 'correct' | 'book' | 'when' | 'reach' | 'align'

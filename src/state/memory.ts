/** Small things remembered on this phone: theme, units, where the person was. Without storage they last for the visit. */
import { keyAt, placeOf, storageHere, takesEarlier } from '../store/place.ts'

let place: string | undefined
/** Each installation on one origin remembers its own. */
function own(key: string): string {
  if (place === undefined) {
    place = placeOf()
    takesEarlier(place, storageHere())
  }
  return keyAt(key, place)
}

const visit = new Map<string, string>()

export function remembered(key: string): string | null {
  try {
    return localStorage.getItem(own(key)) ?? visit.get(key) ?? null
  } catch {
    return visit.get(key) ?? null
  }
}

export function remember(key: string, value: string | null): void {
  if (value === null) visit.delete(key)
  else visit.set(key, value)
  try {
    if (value === null) localStorage.removeItem(own(key))
    else localStorage.setItem(own(key), value)
  } catch {
    // private mode, switched off, or too long: kept for the visit, and nothing older in its place
    try {
      localStorage.removeItem(own(key))
    } catch {
      // none at all
    }
  }
}

/**
 * As `remembered`, but what this tab remembered comes first: two tabs with the same form open each keep their own text over
 * a reload, and a tab that is closed leaves its own to the next.
 */
export function rememberedHere(key: string): string | null {
  try {
    return sessionStorage.getItem(key) ?? remembered(key)
  } catch {
    return remembered(key)
  }
}

export function rememberHere(key: string, value: string | null): void {
  remember(key, value)
  try {
    if (value === null) sessionStorage.removeItem(key)
    else sessionStorage.setItem(key, value)
  } catch {
    // as above
  }
}

/** Keys that begin with `prefix`, of this and of earlier visits. */
export function rememberedKeys(prefix: string): string[] {
  const keys = new Set(visit.keys())
  try {
    const here = own('')
    for (let i = 0; i < localStorage.length; i++) {
      const key = localStorage.key(i)!
      // Another installation's keys end in its own path.
      if (here === '' ? !/ \/\S*\/$/.test(key) : key.endsWith(here)) keys.add(key.slice(0, key.length - here.length))
    }
  } catch {
    // only what this visit has
  }
  return [...keys].filter(key => key.startsWith(prefix))
}

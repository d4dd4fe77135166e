/** The other end of a contact: one place, remembered on this phone until another is written. */
import { type ReadonlySignal, signal } from '@preact/signals'
import type { PlaceJson } from '../core/plan/partner.ts'
import { remember, remembered } from './memory.ts'

const KEY = 'moonplumb.partner'

/** Null for what is not a place on Earth. */
function rememberedPlace(): PlaceJson | null {
  try {
    const { latDeg, lonDeg } = JSON.parse(remembered(KEY) ?? '') as PlaceJson
    if (Math.abs(latDeg) <= 90 && Math.abs(lonDeg) <= 180) return { latDeg, lonDeg }
  } catch {
    // none yet
  }
  return null
}

const chosen = signal(rememberedPlace())
export const partner: ReadonlySignal<PlaceJson | null> = chosen

export function choosePartner(place: PlaceJson | null): void {
  chosen.value = place
  remember(KEY, place && JSON.stringify(place))
}

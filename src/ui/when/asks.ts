/** What "When" asks the core, and the target chosen there. */
import { type ReadonlySignal, signal } from '@preact/signals'
import type { PlaceJson } from '../../core/plan/partner.ts'
import type { WindowsJson } from '../../core/plan/windowsjson.ts'
import type { StationRecord, TargetRecord } from '../../core/records/fieldbook.ts'
import { instantMs } from '../../core/records/instant.ts'
import { ask, type Told } from '../../state/ask.ts'
import { feedHere } from '../../state/chosenfeed.ts'
import { partner } from '../../state/partner.ts'
import { chooseTarget, target as sightTarget } from '../../state/pointing.ts'
import { useAsked, useSolveKey } from '../kit/asked.ts'
import { go } from '../kit/navigation.ts'
import { type Span, spanWish } from './calendar.ts'
import { type Stretch, upStretches } from './strip-geometry.ts'

const chosen = signal<'moon' | 'sun' | 'other'>('moon')
export const targetKind: ReadonlySignal<'moon' | 'sun' | 'other'> = chosen
export const lookFor = (kind: 'moon' | 'sun' | 'other'): void => {
  chosen.value = kind
}

/** What is chosen on Sight beside Sun and Moon; null where it is one of these. */
export const otherTarget = (): TargetRecord | null => {
  const t = sightTarget.value
  return t.type === 'moon' || t.type === 'sun' ? null : t
}

export const targetHere = (): TargetRecord =>
  chosen.value === 'other' ? (otherTarget() ?? { type: 'moon' }) : { type: chosen.value }

/** To Sight, with this target chosen. */
export function driveTo(target: TargetRecord): void {
  chooseTarget(target)
  go('sight')
}

/** The other end, where this target can have one. */
export const partnerFor = (target: TargetRecord): PlaceJson | null =>
  target.type === 'landmark' ? null : partner.value

interface Asked {
  own: WindowsJson | null
  /** In reach here and up at the other end; null without one. */
  both: WindowsJson | null
  /** An answer is still on its way. */
  asking: boolean
  /** What was refused or broke, in the core's words. */
  failed: string | null
}

const failureOf = (told: Told<unknown>): string | null => (told?.kind === 'failed' ? told.message : null)

/** When the target is in reach, here alone and with the other end. */
export function useWindows(station: StationRecord, target: TargetRecord, span: Pick<Span, 'fromMs' | 'toMs'>): Asked {
  const place = partnerFor(target)
  const about = { feed: feedHere(station), target, ...spanWish(span) }
  const key = JSON.stringify([useSolveKey(station), about])
  const own = useAsked(key, () => ask(station, 'windows', about, { topic: 'when' }))
  const both = useAsked(place && key + JSON.stringify(place), () =>
    ask(station, 'windows', { ...about, partner: place! }, { topic: 'when both' }),
  )
  // Of another target or other days: not what is shown.
  const fits = (w: WindowsJson | null): WindowsJson | null =>
    w !== null && instantMs(w.fromUtc) === span.fromMs && JSON.stringify(w.target) === JSON.stringify(target) ? w : null
  return {
    own: fits(own.value),
    both: place && fits(both.value),
    asking: own.asking || (place !== null && both.asking),
    failed: failureOf(own.told) ?? failureOf(both.told),
  }
}

export const spellStretches = (spells: readonly { inUtc: string; outUtc: string }[]): Stretch[] =>
  spells.map(s => [instantMs(s.inUtc), instantMs(s.outUtc)])

/** While it is above the horizon. */
export const upOf = (w: WindowsJson): Stretch[] =>
  upStretches(
    w.days.flatMap(d => d.passages.map(p => ({ what: p.what, ms: instantMs(p.utc), elDeg: p.elDeg }))),
    instantMs(w.fromUtc),
    instantMs(w.toUtc),
    w.spells.length > 0,
  )

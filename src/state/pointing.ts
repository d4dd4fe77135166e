/**
 * What to dial for the target that the person has chosen: asked of the worker, kept fresh while something watches. Between
 * the worker's rows (ten seconds apart) the reading is a straight line; a jump to another pose is not bridged.
 */
import { computed, type ReadonlySignal, type Signal, signal } from '@preact/signals'
import type { OutOfReach, TargetDial, TargetDialRow } from '../core/plan/dialtarget.ts'
import type { MountRecord, TargetRecord } from '../core/records/fieldbook.ts'
import { findSource } from '../core/sky/sources.ts'
import { ask, soundValue, trueNowMs, watched } from './ask.ts'
import { feedHere } from './chosenfeed.ts'
import { remember, remembered } from './memory.ts'
import { now } from './now.ts'

const STEP_S = 10
const COUNT = 61
/** Asked again when this much of the rows is used up. */
const FRESH_MS = 400_000
const KEY = 'moonplumb.target'

/** A remembered target that cannot be one any more is the Moon. */
function rememberedTarget(): TargetRecord {
  try {
    const t = JSON.parse(remembered(KEY) ?? '') as TargetRecord
    if (t.type === 'sun' || t.type === 'moon') return { type: t.type }
    if (t.type === 'source' && findSource(t.name) !== null) return t
    if (t.type === 'geostationary' && Math.abs(t.lonDeg) <= 180) return t
    if (t.type === 'landmark' && t.azDeg >= 0 && t.azDeg <= 360 && Math.abs(t.elDeg) <= 90) return t
  } catch {
    // nothing remembered
  }
  return { type: 'moon' }
}

const chosen: Signal<TargetRecord> = signal(rememberedTarget())
/** What the person is looking for. */
export const target: ReadonlySignal<TargetRecord> = chosen
export function chooseTarget(next: TargetRecord): void {
  chosen.value = next
  remember(KEY, JSON.stringify(next))
}

const dialled = watched({
  about: station => ({ feed: feedHere(station), target: chosen.value }),
  ask: (station, about) => ask(station, 'dialTarget', { ...about, stepS: STEP_S, count: COUNT }),
  ageMs: FRESH_MS,
})

/** Readings that differ by more than this share of an axis's range between two rows are two poses, not a motion. */
const JUMP = 0.05

const between = (a: number | null, b: number | null, f: number, span: number): number | null =>
  a === null || b === null ? null : Math.abs(b - a) > JUMP * span ? (f < 0.5 ? a : b) : a + (b - a) * f

/** The row at an instant; null outside the rows. @param rows  evenly spaced */
export function rowAt(rows: readonly TargetDialRow[], mount: MountRecord, utcMs: number): TargetDialRow | null {
  const first = rows[0]
  const second = rows[1]
  if (!first || !second) return null
  const s = (utcMs - first.utcMs) / (second.utcMs - first.utcMs)
  if (s < -1 || s > rows.length) return null
  const k = Math.max(0, Math.min(rows.length - 2, Math.floor(s)))
  const a = rows[k]!
  const b = rows[k + 1]!
  const f = s - k
  const span = (axis: 'lower' | 'upper') => mount[axis].maxReading - mount[axis].minReading
  const turn = ((b.azDeg - a.azDeg + 540) % 360) - 180
  return {
    utcMs,
    azDeg: (a.azDeg + turn * f + 360) % 360,
    elDeg: a.elDeg + (b.elDeg - a.elDeg) * f,
    lower: between(a.lower, b.lower, f, span('lower')),
    upper: between(a.upper, b.upper, f, span('upper')),
    reachable: f < 0.5 ? a.reachable : b.reachable,
    distanceKm: a.distanceKm,
  }
}

export interface PointingNow extends TargetDialRow {
  target: TargetRecord
  next: TargetDial['next']
  why: OutOfReach | null
}

/** The chosen target at this second; null until the first answer for it. */
export const pointing: ReadonlySignal<PointingNow | null> = computed(() => {
  const { station, about } = dialled.held.value
  const dial = soundValue(dialled.held.value)
  if (dial === null || station === null || about?.target !== chosen.value) return null
  const row = rowAt(dial.rows, station.mount, trueNowMs(station, now.value))
  return row && { ...row, target: about.target, next: dial.next, why: dial.why }
})

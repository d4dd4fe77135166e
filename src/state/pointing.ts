/**
 * What to drive to for the target that the person has chosen: asked of the worker, kept fresh while something watches. Between
 * the worker's rows (ten seconds apart) the reading is a straight line; a jump to another pose is not bridged.
 */
import { computed, type ReadonlySignal, type Signal, signal } from '@preact/signals'
import type { TargetDial, TargetDialRow } from '../core/plan/dialtarget.ts'
import type { Axis, MountRecord, TargetRecord } from '../core/records/fieldbook.ts'
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

/** The remembered target; the Moon where that is no longer valid. */
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
/** The target that the person has chosen. */
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

/** A row between those of the worker, and how fast both readings move there, per second; 0 where that is not known. */
export interface RowNow extends TargetDialRow {
  perS: Record<Axis, number>
}

/** From one angle to another the short way round, in (-180, 180]. */
const between360 = (a: number, b: number, f: number, from: number): number => {
  const turn = ((b - a + 540) % 360) - 180
  return ((((a + turn * f - from) % 360) + 360) % 360) + from
}

/** The row at an instant; null outside the rows. @param rows  evenly spaced */
export function rowAt(rows: readonly TargetDialRow[], mount: MountRecord, utcMs: number): RowNow | null {
  const first = rows[0]
  const second = rows[1]
  if (!first || !second) return null
  const s = (utcMs - first.utcMs) / (second.utcMs - first.utcMs)
  if (s < -1 || s > rows.length) return null
  const k = Math.max(0, Math.min(rows.length - 2, Math.floor(s)))
  const a = rows[k]!
  const b = rows[k + 1]!
  const f = s - k
  const span = (axis: Axis) => mount[axis].maxReading - mount[axis].minReading
  const perS = (axis: Axis): number => {
    const [from, to] = [a[axis], b[axis]]
    const isMotion = from !== null && to !== null && Math.abs(to - from) <= JUMP * span(axis)
    return isMotion ? ((to - from) / (b.utcMs - a.utcMs)) * 1000 : 0
  }
  return {
    utcMs,
    azDeg: between360(a.azDeg, b.azDeg, f, 0),
    elDeg: a.elDeg + (b.elDeg - a.elDeg) * f,
    lower: between(a.lower, b.lower, f, span('lower')),
    upper: between(a.upper, b.upper, f, span('upper')),
    reachable: f < 0.5 ? a.reachable : b.reachable,
    distanceKm: a.distanceKm,
    haDeg: between360(a.haDeg, b.haDeg, f, -180),
    decDeg: a.decDeg + (b.decDeg - a.decDeg) * f,
    enteredLower: between(a.enteredLower, b.enteredLower, f, span('lower')),
    enteredUpper: between(a.enteredUpper, b.enteredUpper, f, span('upper')),
    perS: { lower: perS('lower'), upper: perS('upper') },
  }
}

export interface PointingNow extends RowNow, Omit<TargetDial, 'rows'> {
  target: TargetRecord
}

/** The chosen target at this second; null until the first answer for it. */
export const pointing: ReadonlySignal<PointingNow | null> = computed(() => {
  const { station, about } = dialled.held.value
  const dial = soundValue(dialled.held.value)
  if (dial === null || station === null || about?.target !== chosen.value) return null
  const row = rowAt(dial.rows, station.mount, trueNowMs(station, now.value))
  const { rows: _rows, ...rest } = dial
  return row && { ...rest, ...row, target: about.target }
})

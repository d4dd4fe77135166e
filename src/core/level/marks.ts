/**
 * References: a reading at a mark that never moves, against the earlier readings of the same mark. Readings in the
 * readout's own unit, σ too. A change that restarts the axis's zero ends the comparison: a difference is then intended.
 */
import { isRenewedBy } from '../mount/parameters.ts'
import { angleFromReading, COUNT_SIGMA, countsSteps } from '../readout/readout.ts'
import type { Axis, ReferenceRecord, StationRecord } from '../records/fieldbook.ts'
import { msFromUtc } from '../records/instant.ts'
import { MARK_SIGMA_DEG } from '../records/marks.ts'
import { readoutFromRecord } from '../records/readouts.ts'
import { LAST_VISIT_WITHIN_MS } from '../records/visit.ts'
import { radFromDeg } from '../units.ts'

/** A difference beyond this many σ is reported: 1 in 370 by chance. */
const SAID_BEYOND = 3

export type MarkVerdict =
  /** The first reading of this mark. */
  | { kind: 'first' }
  /** Read before, but the zero was restarted in between. */
  | { kind: 'first-since'; changeUtc: string }
  | { kind: 'agrees'; since: ReferenceRecord; earlier: number; difference: number; sigma: number }
  | {
      kind: 'differs'
      since: ReferenceRecord
      /** This reading minus the earlier one. */
      difference: number
      sigma: number
      /** Sightings taken between the two: their readings are in doubt. */
      sightingsBetween: number
      /** The first and the last of them; null where there is none. */
      between: { firstUtc: string; lastUtc: string } | null
    }
  /** The jack's triangle does not close at the reading. */
  | { kind: 'outside' }

/** 1 σ of one reading at a mark, in readings; null outside a jack's triangle. */
function readingSigma(station: StationRecord, mark: Pick<ReferenceRecord, 'axis' | 'reading' | 'sigmaDeg'>) {
  const readout = readoutFromRecord(station.mount[mark.axis].readout)
  const at = angleFromReading(readout, mark.reading)
  if (at.kind !== 'angle') return null
  const met = radFromDeg(mark.sigmaDeg ?? MARK_SIGMA_DEG) / Math.abs(at.perReading)
  return Math.hypot(met, countsSteps(readout) ? COUNT_SIGMA : 0)
}

/**
 * What a reading at a mark says. It is compared with every earlier reading of the span, the latest first: a counter that
 * loses one count a visit agrees with the last and not with the first.
 *
 * @param mark  it may be in the book already (same id), or not yet
 */
export function compareMark(station: StationRecord, mark: ReferenceRecord): MarkVerdict {
  const ms = msFromUtc(mark.utc)
  const own = readingSigma(station, mark)
  if (own === null) return { kind: 'outside' }
  const zero = mark.axis === 'lower' ? 'lowerZero' : 'upperZero'
  const anew = (station.changes ?? [])
    .filter(c => msFromUtc(c.utc) <= ms && c.what.some(what => isRenewedBy(what, zero, null)))
    .sort((a, b) => msFromUtc(b.utc) - msFromUtc(a.utc))[0]
  const earlier = (station.references ?? [])
    .filter(r => r.axis === mark.axis && r.mark === mark.mark && r.id !== mark.id && msFromUtc(r.utc) <= ms)
    .sort((a, b) => msFromUtc(b.utc) - msFromUtc(a.utc))
  const comparable = anew ? earlier.filter(r => msFromUtc(r.utc) >= msFromUtc(anew.utc)) : earlier
  let agreeing: MarkVerdict | null = null
  for (const since of comparable) {
    const theirs = readingSigma(station, since)
    if (theirs === null) continue
    const difference = mark.reading - since.reading
    const sigma = Math.hypot(own, theirs)
    if (Math.abs(difference) > SAID_BEYOND * sigma) {
      const from = msFromUtc(since.utc)
      const between = station.sightings
        .map(sighting => sighting.utc)
        .filter(utc => msFromUtc(utc) > from && msFromUtc(utc) <= ms)
        .sort((a, b) => msFromUtc(a) - msFromUtc(b))
      return {
        kind: 'differs',
        since,
        difference,
        sigma,
        sightingsBetween: between.length,
        between: between.length === 0 ? null : { firstUtc: between[0]!, lastUtc: between.at(-1)! },
      }
    }
    agreeing ??= { kind: 'agrees', since, earlier: comparable.length, difference, sigma }
  }
  if (agreeing) return agreeing
  return anew && earlier.length > 0 ? { kind: 'first-since', changeUtc: anew.utc } : { kind: 'first' }
}

/** The marks of an axis by name, the latest read first. */
export function markNames(station: StationRecord, axis: Axis): string[] {
  const names = (station.references ?? [])
    .filter(r => r.axis === axis)
    .sort((a, b) => msFromUtc(b.utc) - msFromUtc(a.utc))
    .map(r => r.mark)
  return [...new Set(names)]
}

/**
 * Marks that were read at the start of this visit and not again since: read once more before leaving, they close the run.
 * One that was read later in between is still open; one whose counter was restarted in between is not.
 */
export function openRuns(station: StationRecord, nowMs: number): ReferenceRecord[] {
  const marks = [...(station.references ?? [])].sort((a, b) => msFromUtc(b.utc) - msFromUtc(a.utc))
  const seen = new Set<string>()
  return marks.filter(m => {
    const ms = msFromUtc(m.utc)
    if (ms > nowMs || ms < nowMs - LAST_VISIT_WITHIN_MS || (m.visit !== 'start' && m.visit !== 'end')) return false
    const key = `${m.axis} ${m.mark}`
    if (seen.has(key)) return false
    seen.add(key)
    const zero = m.axis === 'lower' ? 'lowerZero' : 'upperZero'
    const anew = (station.changes ?? []).some(
      c => msFromUtc(c.utc) > ms && msFromUtc(c.utc) <= nowMs && c.what.some(what => isRenewedBy(what, zero, null)),
    )
    return m.visit === 'start' && !anew
  })
}

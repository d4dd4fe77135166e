/** An x-y mount whose Y counts backward: by the table of kinds.ts forward is +, but a degrees readout cannot say. */
import { describe, expect, it } from 'vitest'
import { answerFor, solutionJson } from '../../../src/core/fit/solution.ts'
import { aim } from '../../../src/core/mount/aim.ts'
import { onPaper, SLOT } from '../../../src/core/mount/slots.ts'
import type { SightingRecord, StationRecord } from '../../../src/core/records/fieldbook.ts'
import { withUpperReversed } from '../../../src/core/records/station.ts'
import { stationFromRecord } from '../../../src/core/records/stationintake.ts'
import { apparentPlace } from '../../../src/core/sky/targets.ts'

const axis = { readout: { type: 'degrees' as const }, minReading: -80, maxReading: 80 }
const record = (sightings: SightingRecord[]): StationRecord => ({
  id: 'station',
  name: 'Two tips',
  site: { latDeg: 50, lonDeg: 10, heightM: 100 },
  dish: { diameterM: 3, focalRatio: 0.4 },
  feeds: [{ id: 'a', name: 'feed', frequencyMHz: 1296 }],
  mount: { kind: 'x-y', headingDeg: 10, lower: axis, upper: axis },
  sightings,
})

/** Twelve sightings of Sun and Moon, off by up to 0.2° one way and the other. */
function sighted(isReversed: boolean, headingDeg: number): StationRecord {
  const forward = stationFromRecord(record([]))
  const station = isReversed ? withUpperReversed(forward) : forward
  const built = onPaper()
  built[SLOT.axisA] = (headingDeg * Math.PI) / 180
  built[SLOT.axisB] = 0.02
  built[SLOT.lowerZero] = 0.03
  built[SLOT.upperZero] = -0.02
  const out: SightingRecord[] = []
  for (let k = 0; out.length < 12; k++) {
    const ms = Date.UTC(2026, 5, 1) + k * 7.3 * 3_600_000
    for (const type of ['sun', 'moon'] as const) {
      const place = apparentPlace({ type }, ms, station.site, 'radio')
      const reach = place.el < 0.3 ? null : aim(station.model, built, 'beam', place.direction)
      if (!reach?.inside || out.length === 12) continue
      out.push({
        id: `s${out.length}`,
        utc: new Date(ms).toISOString(),
        target: { type },
        lower: reach.lower + ((k % 3) - 1) * 0.2,
        upper: reach.upper + (((k * 7) % 3) - 1) * 0.2,
        method: 'signal-peak',
        sigmaDeg: 0.5,
      })
    }
  }
  return record(out)
}

const solved = (r: StationRecord) =>
  solutionJson(answerFor(stationFromRecord(r), Date.UTC(2026, 6, 1)), '2026-07-01T00:00:00Z')

describe('solveStation, on an x-y mount', () => {
  it.each([3, 120])('finds that Y counts backward, and says so, with the mount turned by %i°', headingDeg => {
    const s = solved(sighted(true, headingDeg))
    expect(s.suspects.map(x => x.kind)).toEqual(['reading-sense'])
    expect(s.fit.outliers).toBe(0)
    expect(s.parameters.find(p => p.id === 'heading')!.value).toBeCloseTo(headingDeg, 0)
  })

  it.each([3, 120])('says nothing where Y counts forward, with the mount turned by %i°', headingDeg => {
    const s = solved(sighted(false, headingDeg))
    expect(s.suspects).toEqual([])
    expect(s.fit.outliers).toBe(0)
    expect(s.parameters.find(p => p.id === 'heading')!.value).toBeCloseTo(headingDeg, 0)
  })
})

import { describe, expect, it } from 'vitest'
import { countsTableOf, roundStep } from '../../../src/core/export/countstable.ts'
import { onPaper, SLOT, SLOTS } from '../../../src/core/mount/slots.ts'
import { countsTable } from '../../../src/core/questions.ts'
import type { FieldBook, ReadoutRecord, StationRecord } from '../../../src/core/records/fieldbook.ts'
import { stationFromRecord } from '../../../src/core/records/station.ts'
import { weir } from '../../helpers/stations.ts'

const DEG = Math.PI / 180
/** A jack whose arms are 600 and 400 mm and which opens from 45° to 135° over its range: 90° of axis. */
const length = (phiDeg: number) => Math.sqrt(600 ** 2 + 400 ** 2 - 2 * 600 * 400 * Math.cos(phiDeg * DEG))
const JACK: ReadoutRecord = {
  type: 'jack',
  baseArmMm: 600,
  rodArmMm: 400,
  lengthAtReadingZeroMm: length(45),
  countsPerMm: 2,
  phiAtAngleZeroDeg: 90,
  direction: 1,
}
const FULL = 2 * (length(135) - length(45))

const stationWith = (upper: ReadoutRecord, min: number, max: number): StationRecord =>
  weir('az-over-el', 50, undefined, { readout: upper, minReading: min, maxReading: max })
const table = (record: StationRecord, built = onPaper(), C = new Float64Array(SLOTS * SLOTS), wanted = 18) =>
  countsTableOf(stationFromRecord(record), built, C, 'upper', wanted)!

describe('countsTableOf', () => {
  it('says what the triangle says: 45°, 90° and 135° at the pivot are -45°, 0° and 45° of swing', () => {
    const t = table(stationWith(JACK, 0, FULL))
    expect(t.rows[0]).toMatchObject({ reading: 0 })
    expect(t.rows[0]!.angleDeg).toBeCloseTo(-45, 9)
    expect(t.rows.at(-1)!.angleDeg).toBeCloseTo(45, 9)
    // Every row by the cosine law, written out here again.
    for (const row of t.rows) {
      const l = length(45) + row.reading / 2
      const phi = Math.acos((600 ** 2 + 400 ** 2 - l * l) / (2 * 600 * 400)) / DEG
      expect(row.angleDeg).toBeCloseTo(phi - 90, 9)
      expect(row.paperDeg).toBeCloseTo(phi - 90, 9)
    }
  })

  it('the best straight line over 90° of this jack is 7° wrong at its end; lines between 11 rows, 0.6° at most', () => {
    const t = table(stationWith(JACK, 0, FULL))
    // The line again, from the cosine law at 4000 readings and the textbook's sums.
    const points = Array.from({ length: 4001 }, (_, k) => {
      const x = (FULL * k) / 4000
      const l = length(45) + x / 2
      return { x, y: Math.acos((600 ** 2 + 400 ** 2 - l * l) / (2 * 600 * 400)) / DEG - 90 }
    })
    const sum = (f: (p: { x: number; y: number }) => number) => points.reduce((a, p) => a + f(p), 0)
    const n = points.length
    const slope =
      (n * sum(p => p.x * p.y) - sum(p => p.x) * sum(p => p.y)) / (n * sum(p => p.x * p.x) - sum(p => p.x) ** 2)
    const atZero = (sum(p => p.y) - slope * sum(p => p.x)) / n
    const worst = Math.max(...points.map(p => Math.abs(p.y - atZero - slope * p.x)))
    expect(worst).toBeGreaterThan(5)
    expect(t.line.worstDeg / worst).toBeGreaterThan(0.95) // the table's samples are coarser
    expect(t.line.worstDeg / worst).toBeLessThan(1.05)
    expect(t.betweenDeg).toBeGreaterThan(0.01)
    expect(t.betweenDeg).toBeLessThan(0.6) // h² φ''/8 at the open end: 50 mm, where 0.3°/mm grows by about half a percent a mm
  })

  it('goes in round steps from limit to limit, each reading once', () => {
    const t = table(stationWith(JACK, 13, 611))
    expect(t.step).toBe(50)
    expect(t.rows.map(r => r.reading)).toEqual([13, 50, 100, 150, 200, 250, 300, 350, 400, 450, 500, 550, 600, 611])
    expect(table(stationWith(JACK, 0, 600)).rows.map(r => r.reading)).toEqual(
      Array.from({ length: 13 }, (_, k) => 50 * k),
    )
  })

  it('carries zero, arms and their uncertainty: 2° of zero known to 0.3° shifts every row by 2 ± 0.3°', () => {
    const built = onPaper()
    built[SLOT.upperZero] = 2 * DEG
    const C = new Float64Array(SLOTS * SLOTS)
    C[SLOT.upperZero * SLOTS + SLOT.upperZero] = (0.3 * DEG) ** 2
    for (const row of table(stationWith(JACK, 0, 600), built, C).rows) {
      expect(row.angleDeg - row.paperDeg!).toBeCloseTo(2, 9)
      expect(row.sigmaDeg).toBeCloseTo(0.3, 9)
    }
  })

  it('linear counts of 12 to the degree need no table: the line is exact', () => {
    const t = table(stationWith({ type: 'linear-counts', zeroCounts: 30, countsPerDeg: -12 }, 0, 900))
    expect(t.line.degPerCount).toBeCloseTo(-1 / 12, 12)
    expect(t.line.degAtZero).toBeCloseTo(2.5, 9)
    expect(t.line.worstDeg).toBeLessThan(1e-9)
    expect(t.betweenDeg).toBeLessThan(1e-9)
  })
})

describe('roundStep', () => {
  it('1000 counts in about 20 rows go by 50, 820 by 50, 90 by 5, and never by less than a count', () => {
    expect([roundStep(1000, 20), roundStep(820, 20), roundStep(90, 20), roundStep(7, 20)]).toEqual([50, 50, 5, 1])
  })
})

describe('countsTable', () => {
  const book = (record: StationRecord): FieldBook => ({
    format: 'moonplumb-fieldbook',
    version: 1,
    exportedUtc: '2026-05-01T00:00:00Z',
    stations: [record],
  })
  const o = { now: '2026-05-01T00:00:00Z', rows: 20 }

  it('answers null for an axis that reads degrees', () => {
    expect(countsTable(book(stationWith(JACK, 0, 600)), { ...o, axis: 'lower' })).toEqual({ ok: true, value: null })
  })

  it('without sightings a jack is as unsure as its zero: 30° by default', () => {
    const answer = countsTable(book(stationWith(JACK, 0, 600)), { ...o, axis: 'upper' })
    if (!answer.ok || answer.value === null) throw new Error('expected a table')
    for (const row of answer.value.rows) expect(row.sigmaDeg).toBeGreaterThan(29.9)
  })
})

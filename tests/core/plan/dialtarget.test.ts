import { describe, expect, it } from 'vitest'
import { onPaper } from '../../../src/core/mount/slots.ts'
import { dialOf } from '../../../src/core/plan/dial.ts'
import { dialTargetOf } from '../../../src/core/plan/dialtarget.ts'
import type { StationRecord, TargetRecord } from '../../../src/core/records/fieldbook.ts'
import { stationFromRecord, targetFromRecord } from '../../../src/core/records/stationintake.ts'
import { bareStation } from '../../helpers/smallbook.ts'

const record = (more: object = {}): StationRecord => ({
  ...bareStation('s'),
  site: { latDeg: 47.1, lonDeg: 9.3, heightM: 640 },
  ...more,
})
const axes = (lower: [number, number], upper: [number, number]) => ({
  mount: {
    kind: 'el-over-az' as const,
    lower: { readout: { type: 'degrees' as const }, minReading: lower[0], maxReading: lower[1] },
    upper: { readout: { type: 'degrees' as const }, minReading: upper[0], maxReading: upper[1] },
  },
})
const now = Date.parse('2026-06-10T10:00:00Z')
const dial = (station: StationRecord, target: TargetRecord, count = 3) => {
  const s = stationFromRecord(station)
  return dialTargetOf(s, s.feeds[0]!, onPaper(), targetFromRecord(target), now, 10_000, count)
}

describe('dialTargetOf', () => {
  it('says the same of the Sun as the dial for Sun and Moon, to 0.0001°', () => {
    // Two ways through the sky: exact places here, a track interpolated there.
    const s = stationFromRecord(record())
    const sun = dialOf(s, s.feeds[0]!, onPaper(), now, 10_000, 3).find(b => b.body === 'sun')!
    const mine = dial(record(), { type: 'sun' })
    for (const [k, row] of mine.rows.entries()) {
      expect(row.lower).toBeCloseTo(sun.rows[k]!.lower!, 4)
      expect(row.upper).toBeCloseTo(sun.rows[k]!.upper!, 4)
    }
    expect(mine.next!.what).toBe(sun.event!.what)
    expect(Math.abs(mine.next!.utcMs - sun.event!.utcMs)).toBeLessThanOrEqual(10_000)
  })

  it('reads azimuth and elevation of a landmark straight from its place on a mount without error', () => {
    const { rows, next, why } = dial(record(), { type: 'landmark', azDeg: 123.4, elDeg: 17.5 })
    expect(rows[0]!.lower).toBeCloseTo(123.4, 9)
    expect(rows[0]!.upper).toBeCloseTo(17.5, 9)
    expect(rows[0]!.reachable).toBe(true)
    expect([next, why]).toEqual([null, null])
  })

  it('names the stop that holds the dish from a landmark', () => {
    const landmark: TargetRecord = { type: 'landmark', azDeg: 123.4, elDeg: 60 }
    expect(dial(record(axes([0, 100], [0, 90])), landmark).why).toEqual({ kind: 'stop', axis: 'lower', end: 'max' })
    expect(dial(record(axes([0, 360], [70, 90])), landmark).why).toEqual({ kind: 'stop', axis: 'upper', end: 'min' })
    expect(dial(record(axes([0, 100], [0, 90])), landmark).rows[0]!.reachable).toBe(false)
  })

  it('says too low of the Sun that leaves in the evening, and the stop where a stop comes first', () => {
    // Sun at 10:00 UTC in June at 9° E: in the south-east, high.
    expect(dial(record(), { type: 'sun' })).toMatchObject({ next: { what: 'leaves-reach' }, why: { kind: 'low' } })
    const stopped = dial(record(axes([0, 200], [0, 90])), { type: 'sun' })
    expect(stopped).toMatchObject({
      next: { what: 'leaves-reach' },
      why: { kind: 'stop', axis: 'lower', end: 'max' },
    })
    expect(stopped.next!.utcMs - now).toBeLessThan(3 * 3_600_000)
  })
})

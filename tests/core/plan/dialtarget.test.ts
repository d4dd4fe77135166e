import { describe, expect, it } from 'vitest'
import { onPaper, SLOT } from '../../../src/core/mount/slots.ts'
import { dialOf } from '../../../src/core/plan/dial.ts'
import { dialTargetOf } from '../../../src/core/plan/dialtarget.ts'
import type { StationRecord, TargetRecord } from '../../../src/core/records/fieldbook.ts'
import { stationFromRecord, targetFromRecord } from '../../../src/core/records/stationintake.ts'
import { bareStation } from '../../helpers/smallbook.ts'
import { someOf } from '../../helpers/some.ts'

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
    for (const [k, row] of someOf(mine.rows.entries())) {
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

  it('drives to a landmark on the horizon, below the floor and the mask of the sky', () => {
    const masked = record({ ...axes([0, 360], [-5, 90]), horizonMask: [{ azDeg: 0, elDeg: 12 }] })
    const { rows, why } = dial(masked, { type: 'landmark', azDeg: 123.4, elDeg: 0.4 })
    expect(rows[0]).toMatchObject({ reachable: true })
    expect(rows[0]!.upper).toBeCloseTo(0.4, 9)
    expect(why).toBeNull()
  })

  it('names the stop that holds the dish from a landmark', () => {
    const landmark: TargetRecord = { type: 'landmark', azDeg: 123.4, elDeg: 60 }
    expect(dial(record(axes([0, 100], [0, 90])), landmark).why).toEqual('lower-max')
    expect(dial(record(axes([0, 360], [70, 90])), landmark).why).toEqual('upper-min')
    expect(dial(record(axes([0, 100], [0, 90])), landmark).rows[0]!.reachable).toBe(false)
  })

  it('has hour angle and declination as the library does, without air, and the size of the disc', () => {
    const { rows, sizeDeg } = dial(record(), { type: 'sun' })
    // 10 June: declination +23.0°. 10:00 UTC at 9.3° E is 10:37 by the sundial's mean, and the equation of time +40 s.
    expect(rows[0]!.decDeg).toBeCloseTo(23.0, 1)
    expect(rows[0]!.haDeg).toBeCloseTo(-30 + 9.3 + 0.15, 1)
    // Perihelion is in January: a June Sun is 0.525°.
    expect(sizeDeg).toBeCloseTo(0.525, 2)
    expect(dial(record(), { type: 'moon' }).sizeDeg).toBeGreaterThan(0.48)
    expect(dial(record(), { type: 'source', name: 'Cygnus A' }).sizeDeg).toBeNull()
  })

  it('has the readings without corrections beside the corrected ones', () => {
    const s = stationFromRecord(record())
    const built = onPaper()
    built[SLOT.upperZero] = 0.02
    const target = targetFromRecord({ type: 'landmark', azDeg: 123.4, elDeg: 17.5 })
    const row = dialTargetOf(s, s.feeds[0]!, built, target, now, 10_000, 2).rows[0]!
    expect(row.enteredUpper).toBeCloseTo(17.5, 9)
    expect(row.upper).toBeCloseTo(17.5 - (0.02 * 180) / Math.PI, 9)
    expect(row.enteredLower).toBeCloseTo(row.lower!, 9)
  })

  it('says the spell within reach: until when it runs, or from when to when it comes', () => {
    const sun = dial(record(), { type: 'sun' })
    expect(sun.spell).toEqual({ fromMs: null, untilMs: sun.next!.utcMs, why: 'floor' })
    const later = dial(record(axes([200, 300], [0, 90])), { type: 'sun' })
    expect(later.spell!.fromMs).toBe(later.next!.utcMs)
    expect(later.spell!.untilMs! - later.spell!.fromMs!).toBeGreaterThan(3_600_000)
    expect(later.spell!.why).not.toBeNull()
    expect(dial(record(axes([0, 100], [0, 90])), { type: 'landmark', azDeg: 123, elDeg: 9 }).spell).toBeNull()
    expect(dial(record(), { type: 'landmark', azDeg: 123, elDeg: 9 }).spell).toEqual({
      fromMs: null,
      untilMs: null,
      why: null,
    })
  })

  it('counts how many readings a degree is where the target stands', () => {
    const upper = {
      readout: { type: 'linear-counts' as const, zeroCounts: 0, countsPerDeg: -10 },
      minReading: -900,
      maxReading: 0,
    }
    const counted = { mount: { ...axes([0, 360], [0, 90]).mount, upper } }
    const { perDeg } = dial(record(counted), { type: 'landmark', azDeg: 10, elDeg: 30 })
    expect(perDeg.lower).toBeCloseTo(1, 9)
    expect(perDeg.upper).toBeCloseTo(10, 9)
  })

  it('says too low of the Sun that leaves in the evening, and the stop where a stop comes first', () => {
    // Sun at 10:00 UTC in June at 9° E: in the south-east, high.
    expect(dial(record(), { type: 'sun' })).toMatchObject({ next: { what: 'leaves-reach' }, why: 'floor' })
    const stopped = dial(record(axes([0, 200], [0, 90])), { type: 'sun' })
    expect(stopped).toMatchObject({
      next: { what: 'leaves-reach' },
      why: 'lower-max',
    })
    expect(stopped.next!.utcMs - now).toBeLessThan(3 * 3_600_000)
  })
})

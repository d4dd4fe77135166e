/** The next best sighting: what it promises is what it brings; what this station cannot do is not proposed. */
import { describe, expect, it } from 'vitest'
import { canHearMoon } from '../../../src/core/fit/nextbest.ts'
import { hasTube } from '../../../src/core/fit/parameters.ts'
import { answerFor, solveStation } from '../../../src/core/fit/solution.ts'
import type { StationRecord } from '../../../src/core/records/fieldbook.ts'
import { stationFromRecord } from '../../../src/core/records/stationintake.ts'
import { maskAt } from '../../../src/core/sky/horizonmask.ts'
import { shareOf } from '../../helpers/share.ts'
import { drawScene, KINDS, START_MS, sightMany, utcOf } from '../../helpers/simulate.ts'
import { someOf } from '../../helpers/some.ts'

const D = Math.PI / 180
const NOW = START_MS + 22 * 86_400_000

const answered = (record: StationRecord) => {
  const station = stationFromRecord(record)
  return { station, ...answerFor(station, NOW, solveStation(station)) }
}

describe('nextBest', () => {
  it.each(shareOf(KINDS, 2))(
    'on %s: the rms that it promises is the rms after adding that very sighting, within 2 per cent',
    kind => {
      const scene = drawScene(850, { kind, lower: 'degrees', upper: 'degrees' })
      const record = {
        ...scene.record,
        sightings: sightMany(scene, 6, { methods: ['signal-peak', 'shadow', 'optical'] }),
      }
      const before = answered(record)
      expect(before.next.length).toBeGreaterThan(0)
      for (const [k, p] of someOf(before.next.entries())) {
        const after = answered({
          ...record,
          sightings: [
            ...record.sightings,
            {
              id: `next${k}`,
              utc: utcOf(p.utcMs),
              target: { type: p.target },
              method: p.method,
              lower: p.lower,
              upper: p.upper,
              ...(p.method === 'shadow' ? { shadow: { rightMm: 0, upMm: 0 } } : {}),
            },
          ],
        })
        expect(p.rmsAfter).toBeLessThan(before.sky.after.rms)
        expect(after.sky.after.rms / p.rmsAfter).toBeGreaterThan(0.98)
        expect(after.sky.after.rms / p.rmsAfter).toBeLessThan(1.02)
      }
    },
  )

  it('proposes what lies above mask and lowest elevation, within the limits, within three days, best first', () => {
    for (const seed of [851, 852, 853, 854]) {
      const scene = drawScene(seed, { mask: true })
      const { station, next } = answered({ ...scene.record, sightings: sightMany(scene, 6) })
      for (const [k, p] of someOf(next.entries())) {
        expect(p.el).toBeGreaterThanOrEqual(Math.max(8 * D, 1.2 * station.feeds[0]!.hpbw))
        expect(p.el).toBeGreaterThanOrEqual(maskAt(station.mask, p.az))
        for (const axis of ['lower', 'upper'] as const) {
          expect(p[axis]).toBeGreaterThanOrEqual(station.model[axis].minReading - 1e-6)
          expect(p[axis]).toBeLessThanOrEqual(station.model[axis].maxReading + 1e-6)
        }
        expect(p.utcMs).toBeGreaterThanOrEqual(NOW)
        expect(p.utcMs).toBeLessThan(NOW + 3 * 86_400_000)
        if (k > 0) expect(p.rmsAfter).toBeGreaterThanOrEqual(next[k - 1]!.rmsAfter)
      }
      expect(next.length).toBeLessThanOrEqual(5)
    }
  })

  it('does not propose the Moon by signal to 3 m at 1296 MHz (its noise is 0.04 dB), unless its echoes are heard', () => {
    const scene = drawScene(855, { kind: 'el-over-az', frequencyMHz: 1296 })
    const record: StationRecord = {
      ...scene.record,
      dish: { diameterM: 3, focalRatio: 0.4 },
      sightings: sightMany(scene, 5, { methods: ['signal-peak'] }),
    }
    const byMoon = (r: StationRecord) => answered(r).next.filter(p => p.target === 'moon' && p.method === 'signal-peak')
    expect(canHearMoon(stationFromRecord(record), stationFromRecord(record).feeds[0]!)).toBe(false)
    expect(byMoon(record)).toEqual([])
    const heard = { ...record, feeds: record.feeds.map(f => ({ ...f, hearsMoonEchoes: true })) }
    expect(byMoon(heard).length).toBeGreaterThan(0)
    // 3 m at 10 368 MHz: about 2 dB.
    const high = { ...record, feeds: record.feeds.map(f => ({ ...f, frequencyMHz: 10_368 })) }
    expect(canHearMoon(stationFromRecord(high), stationFromRecord(high).feeds[0]!)).toBe(true)
  })

  it('a sighting tube is used once it was looked through, or something is known of it', () => {
    const scene = drawScene(854, { kind: 'el-over-az' })
    const bare = { ...scene.record, priors: [], sightings: sightMany(scene, 6, { methods: ['signal-peak'] }) }
    const known = { ...bare, priors: [{ id: 'tubeRight' as const, value: 0, sigma: 0.1 }] }
    const byTube = (r: StationRecord) => answered(r).next.some(p => p.method === 'optical')
    expect([bare, known].map(r => hasTube(stationFromRecord(r)))).toEqual([false, true])
    expect([bare, known].map(byTube)).toEqual([false, true])
  })
})

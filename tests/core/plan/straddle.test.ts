/**
 * Where a peak can be found by halves: the beam is driven half its width past the target on either side of each axis, which the
 * rehearsal's own chain judges here; and nothing but sky is in it.
 */
import { describe, expect, it } from 'vitest'
import { aim } from '../../../src/core/mount/aim.ts'
import { SLOTS } from '../../../src/core/mount/slots.ts'
import { straddler } from '../../../src/core/plan/straddle.ts'
import { campaign, worth } from '../../../src/core/questions.ts'
import type { StationRecord } from '../../../src/core/records/fieldbook.ts'
import { stationFromRecord } from '../../../src/core/records/stationintake.ts'
import { enuFromAzEl } from '../../../src/core/vectors.ts'
import { answered } from '../../helpers/answered.ts'
import { shareOf } from '../../helpers/share.ts'
import { bookOf, drawScene, KINDS, START_MS, sightMany, utcOf } from '../../helpers/simulate.ts'
import { someOf } from '../../helpers/some.ts'
import { gravelPit, weir } from '../../helpers/stations.ts'
import { apartDeg, trueMount } from '../../helpers/truemount.ts'

const D = Math.PI / 180
const PAPER = new Float64Array(SLOTS)

/** Whether a peak by signal of a place in the sky can be straddled on a mount as on paper; null out of its reach. */
function can(
  record: StationRecord,
  azDeg: number,
  elDeg: number,
  method: 'signal-peak' | 'shadow' | 'drift-scan' = 'signal-peak',
) {
  const station = stationFromRecord(record)
  const feed = station.feeds[0]!
  const t = enuFromAzEl(azDeg * D, elDeg * D)
  const reach = aim(station.model, PAPER, 'beam', t)
  if (reach === null || !reach.inside) return null
  return { is: straddler(station, feed, PAPER)(method, t, reach), reach, t }
}

describe('a peak by halves', () => {
  // 3 m on 1296 MHz: a beam of 5.4°, 2.7° to either side; azimuth 0 to 360, elevation 0 to 90.
  it('wants half a beamwidth before each stop, on the azimuth by what the elevation demands', () => {
    const pit = gravelPit({ feeds: [{ id: 'a', name: 'ring feed', frequencyMHz: 1296, beamwidthDeg: 5 }] })
    const is = (az: number, el: number) => can(pit, az, el)!.is
    expect([is(2, 30), is(3, 30), is(357, 30), is(358, 30)]).toEqual([false, true, true, false])
    // At 60° half a beam is 5° of azimuth.
    expect([is(4.8, 60), is(5.2, 60)]).toEqual([false, true])
    expect([is(180, 87), is(180, 88)]).toEqual([true, false])
  })

  it('does not hold a shadow back, nor at a stop a drift', () => {
    const pit = gravelPit({ feeds: [{ id: 'a', name: 'ring feed', frequencyMHz: 1296, beamwidthDeg: 5 }] })
    expect([can(pit, 2, 30, 'shadow')!.is, can(pit, 2, 30, 'drift-scan')!.is]).toEqual([true, true])
  })

  it('wants the edge of the beam clear of the ground and of hills, beside it too', () => {
    const low = gravelPit({
      feeds: [{ id: 'a', name: 'ring feed', frequencyMHz: 1296, beamwidthDeg: 5 }],
      mount: { ...gravelPit().mount, upper: { readout: { type: 'degrees' }, minReading: -10, maxReading: 90 } },
    })
    expect([2.4, 2.6].map(el => can(low, 180, el)!.is)).toEqual([false, true])
    expect(can(low, 180, 2.4, 'drift-scan')!.is).toBe(false)
    expect(can(low, 180, 2.4, 'shadow')!.is).toBe(true)
    const hill: StationRecord = {
      ...low,
      horizonMask: [
        { azDeg: 0, elDeg: 0 },
        { azDeg: 179.9, elDeg: 0 },
        { azDeg: 180, elDeg: 20 },
        { azDeg: 200, elDeg: 20 },
        { azDeg: 200.1, elDeg: 0 },
      ],
    }
    expect([22.4, 22.6].map(el => can(hill, 190, el)!.is)).toEqual([false, true])
    // Just beside the hill half of the beam is in it.
    expect([can(hill, 178.5, 15)!.is, can(hill, 176, 15)!.is]).toEqual([false, true])
  })

  it.each(shareOf(KINDS, 2))(
    'on %s is had exactly where the chain can be driven so far that the target is half a beam away',
    kind => {
      const record: StationRecord = {
        ...weir(
          kind,
          48,
          { readout: { type: 'degrees' }, minReading: -60, maxReading: 70 },
          { readout: { type: 'degrees' }, minReading: -40, maxReading: 55 },
        ),
        feeds: [{ id: 'a', name: 'ring feed', frequencyMHz: 1296, beamwidthDeg: 6 }],
      }
      const mount = trueMount(record, {})
      let [yes, no] = [0, 0]
      for (let az = 0; az < 360; az += 7)
        for (let el = 15; el < 90; el += 7) {
          const found = can(record, az, el)
          if (found === null) continue
          const { is, reach, t } = found
          const model = record.mount
          // The far end of what is left of each axis, on either side: how far off the target the beam is there, at most half a turn on.
          const most = (axis: 'lower' | 'upper', way: 1 | -1): number => {
            const end = way > 0 ? model[axis].maxReading : model[axis].minReading
            const at = axis === 'lower' ? reach.lower : reach.upper
            let far = 0
            for (let k = 1; k <= 150; k++) {
              const reading = at + ((end - at) * k) / 150
              const { b } = mount.pose(
                ...((axis === 'lower' ? [reading, reach.upper] : [reach.lower, reading]) as [number, number]),
                'beam',
                'a',
              )
              far = Math.max(far, apartDeg(b, t))
            }
            return far
          }
          const room = Math.min(...(['lower', 'upper'] as const).flatMap(axis => [most(axis, 1), most(axis, -1)]))
          if (Math.abs(room - 3) < 0.02) continue
          expect([az, el, is]).toEqual([az, el, room > 3])
          if (is) yes++
          else no++
        }
      expect(yes).toBeGreaterThan(50)
      expect(no).toBeGreaterThan(3)
    },
  )
})

describe('what is proposed', () => {
  const NOW = START_MS + 3 * 86_400_000
  it('leaves out by signal where a stop or a hill is within half a beam, and keeps shadows there', () => {
    const scene = drawScene(431, {
      kind: 'el-over-az',
      lower: 'degrees',
      upper: 'degrees',
      frequencyMHz: 1296,
      wild: false,
    })
    const record = { ...scene.record, sightings: sightMany(scene, 8, { methods: ['signal-peak'], days: 1 }) }
    const asked = (r: StationRecord) => {
      const book = bookOf(r)
      const found = answered(campaign(book, { now: utcOf(NOW) }))
      const steps = [
        ...found.today,
        ...found.ranked,
        ...(found.back?.steps ?? []),
        ...answered(worth(book, { now: utcOf(NOW) })).steps,
      ].map(s => s.step)
      return steps.flatMap(s => (s.kind === 'sighting' ? [s] : []))
    }
    const free = asked(record)
    const [first] = free.filter(s => s.method === 'signal-peak')
    expect(first).toBeDefined()
    // A stop a degree above the place that was proposed: there is nothing left of it by signal, below nothing near.
    const upper = { ...record.mount.upper, maxReading: first!.upper + 1 }
    const stopped = asked({ ...record, mount: { ...record.mount, upper } })
    const half = stationFromRecord(record).feeds[0]!.hpbw / D / 2
    const peaks = (steps: typeof free) => steps.filter(s => s.method === 'signal-peak')
    expect(peaks(stopped).filter(s => s.upper >= upper.maxReading - 0.9 * half)).toEqual([])
    expect(stopped.length).toBeGreaterThan(0)
    // A skyline a degree below it, all round.
    const mask = [0, 120, 240].map(azDeg => ({ azDeg, elDeg: first!.elDeg - 1 }))
    for (const s of someOf(peaks(asked({ ...record, horizonMask: mask }))))
      expect(s.elDeg).toBeGreaterThan(first!.elDeg - 1 + 0.99 * half)
  })
})

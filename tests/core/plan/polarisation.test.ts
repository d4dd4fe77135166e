/** Polarisation: roll and spatial offset against the spherical triangle, against an independent mount, against plain vectors. */
import { describe, expect, it } from 'vitest'
import { enuFromHaDec } from '../../../src/core/frames.ts'
import { spatialOffset, verticalFromNorth } from '../../../src/core/plan/polarisation.ts'
import { polarisation } from '../../../src/core/questions.ts'
import type { StationRecord } from '../../../src/core/records/fieldbook.ts'
import { stationFromRecord } from '../../../src/core/records/stationintake.ts'
import { instantAt } from '../../../src/core/sky/almanac.ts'
import { type EarthFixed, siteFrame } from '../../../src/core/sky/earthfixed.ts'
import { airlessPlace } from '../../../src/core/sky/targets.ts'
import { answered } from '../../helpers/answered.ts'
import { DEG } from '../../helpers/degrees.ts'
import { degreesAxis, KINDS } from '../../helpers/simulate.ts'
import { someOf } from '../../helpers/some.ts'
import { bookOf, gravelPit, weir } from '../../helpers/stations.ts'

const FROM = '2026-05-01T00:00:00Z'

type Wish = Partial<Parameters<typeof polarisation>[1]>
function asked(record: StationRecord, o: Wish = {}) {
  return answered(
    polarisation(bookOf(record), {
      now: FROM,
      target: { type: 'moon' },
      fromUtc: FROM,
      stepS: 1200,
      count: 72,
      ...o,
    }),
  )
}

/** The parallactic angle by the spherical triangle: tan q = sin H / (tan φ cos δ - sin δ cos H). Meeus, Astronomical Algorithms, 14. */
const parallactic = (ha: number, dec: number, lat: number): number =>
  Math.atan2(Math.sin(ha), Math.tan(lat) * Math.cos(dec) - Math.sin(dec) * Math.cos(ha))

describe('verticalFromNorth', () => {
  it('is the parallactic angle, in both hemispheres', () => {
    for (const lat of [-70, -30, -1, 12, 47, 80])
      for (const ha of [-100, -40, -3, 0.5, 30, 80])
        for (const dec of [-28, -5, 17, 28]) {
          const found = verticalFromNorth(enuFromHaDec(ha * DEG, dec * DEG, lat * DEG), lat * DEG)
          // tan φ < 0 in the south: the formula's denominator carries the sign of cos φ, which is positive.
          expect(Math.cos(found - parallactic(ha * DEG, dec * DEG, lat * DEG))).toBeCloseTo(1, 10)
        }
  })
})

describe('the roll of the UP mark', () => {
  it('is nothing on elevation over azimuth, and the parallactic angle on a polar mount', () => {
    const wide = degreesAxis(-180, 180)
    for (const { rollDeg, elDeg } of someOf(asked(weir('el-over-az', 47, degreesAxis(0, 360), degreesAxis(0, 90)))))
      if (elDeg > 0) expect(Math.abs(rollDeg!)).toBeLessThan(1e-9)
    for (const latDeg of [47, -34]) {
      const record = weir('ha-dec', latDeg, wide, degreesAxis(-90, 90))
      const { site } = stationFromRecord(record)
      let largest = 0
      for (const { utc, rollDeg, elDeg } of someOf(asked(record))) {
        if (elDeg < 10) continue
        const { direction } = airlessPlace({ type: 'moon' }, instantAt(Date.parse(utc)), siteFrame(site))
        const q = verticalFromNorth(direction, site.lat) / DEG
        // In the south the mark points to the south pole. Refraction, 0.1°, moves the place a little.
        const expected = latDeg > 0 ? q : q - 180
        expect(Math.abs(((rollDeg! - expected + 540) % 360) - 180)).toBeLessThan(0.2)
        largest = Math.max(largest, Math.abs(rollDeg!))
      }
      // A tilting mount rolls by 30° and more.
      expect(largest).toBeGreaterThan(30)
    }
  })

  it('is to the right, clockwise, where the Moon has passed the meridian in the north', () => {
    const rows = asked(weir('ha-dec', 47, degreesAxis(-180, 180), degreesAxis(-90, 90))).filter(r => r.elDeg > 10)
    for (const r of someOf(rows))
      if (Math.abs(r.azDeg - 180) > 5) expect(Math.sign(r.rollDeg!)).toBe(Math.sign(r.azDeg - 180))
    expect(rows.some(r => r.azDeg > 200) && rows.some(r => r.azDeg < 160)).toBe(true)
  })

  it('is null where there is no pose', () => {
    const record = weir('az-over-el', 48, degreesAxis(-180, 180), degreesAxis(-180, 180))
    const offset = { ...record, mount: { ...record.mount, boresightOffsetDeg: 40 } }
    const [row] = asked(offset, { target: { type: 'landmark', azDeg: 90, elDeg: 10 }, count: 1 })
    expect(row).toMatchObject({ rollDeg: null, reachable: false, partner: null })
  })
})

describe('the spatial offset', () => {
  it('is that of the zeniths as they lie across the line to the Moon, plain vectors in the Earth’s own frame', () => {
    const places = [
      [47, 9],
      [-34, 151],
      [40, -105],
      [5, 100],
    ] as const
    for (let h = 0; h < 24; h += 3) {
      const instant = instantAt(Date.parse(FROM) + h * 3_600_000)
      for (const [latA, lonA] of places)
        for (const [latB, lonB] of places) {
          const [a, b] = [
            siteFrame({ lat: latA * DEG, lon: lonA * DEG, heightM: 0 }),
            siteFrame({ lat: latB * DEG, lon: lonB * DEG, heightM: 0 }),
          ]
          const seen = (f: typeof a) => airlessPlace({ type: 'moon' }, instant, f).direction
          const offset = spatialOffset({ airless: seen(a), lat: latA * DEG }, { airless: seen(b), lat: latB * DEG })
          // The line from A in Earth-fixed axes; both zeniths laid across it.
          const v = (e: EarthFixed): number[] => [e.x, e.y, e.z]
          const [east, north, up] = [v(a.east), v(a.north), v(a.up)]
          const t = east.map((_, k) => seen(a)[0] * east[k]! + seen(a)[1] * north[k]! + seen(a)[2] * up[k]!)
          const dot = (p: number[], q: number[]) => p.reduce((s, x, k) => s + x * q[k]!, 0)
          const across = (p: number[]) => p.map((x, k) => x - dot(p, t) * t[k]!)
          const [za, zb] = [across(v(a.up)), across(v(b.up))]
          // Where a zenith lies along the line the angle is nothing sure.
          if (Math.hypot(...za) < 0.3 || Math.hypot(...zb) < 0.3) continue
          const side =
            t[0]! * (za[1]! * zb[2]! - za[2]! * zb[1]!) +
            t[1]! * (za[2]! * zb[0]! - za[0]! * zb[2]!) +
            t[2]! * (za[0]! * zb[1]! - za[1]! * zb[0]!)
          // From north through east is anticlockwise on the sky: against the right-handed turn about the line outward.
          const angle = Math.atan2(-side, dot(za, zb))
          // The two lines to the Moon differ by up to 2°.
          expect(Math.abs(Math.sin(offset - angle))).toBeLessThan(Math.sin(4 * DEG))
          const back = spatialOffset({ airless: seen(b), lat: latB * DEG }, { airless: seen(a), lat: latA * DEG })
          expect(Math.abs(Math.sin(back + offset))).toBeLessThan(1e-9)
        }
    }
  })

  it('is nothing to oneself, loses by its cosine, and says whether the partner has the Moon', () => {
    for (const r of someOf(asked(gravelPit(), { partner: { latDeg: 47.1, lonDeg: 9.3 } }))) {
      expect(Math.abs(r.partner!.offsetDeg)).toBeLessThan(0.01)
      expect(r.partner!.lossDb).toBeLessThan(1e-6)
      if (Math.abs(r.elDeg) > 0.5) expect(r.partner!.isUp).toBe(r.elDeg > 0)
    }
    const far = asked(gravelPit(), { partner: { latDeg: 40, lonDeg: -105 } })
    for (const { partner } of someOf(far)) {
      expect(Math.abs(partner!.offsetDeg)).toBeLessThanOrEqual(90)
      expect(partner!.lossDb).toBeCloseTo(
        Math.min(60, -20 * Math.log10(Math.abs(Math.cos(partner!.offsetDeg * DEG)))),
        6,
      )
    }
    expect(Math.max(...far.map(r => Math.abs(r.partner!.offsetDeg)))).toBeGreaterThan(40)
  })

  it('asks all four mounts, and refuses a landmark for two', () => {
    for (const kind of KINDS) expect(asked(weir(kind, 47), { count: 3 })).toHaveLength(3)
    const answer = polarisation(bookOf(gravelPit()), {
      now: FROM,
      target: { type: 'landmark', azDeg: 1, elDeg: 20 },
      fromUtc: FROM,
      stepS: 60,
      count: 1,
      partner: { latDeg: 1, lonDeg: 2 },
    })
    expect(answer.ok).toBe(false)
  })
})

/** Will it reach: against windows to the second, against every pose of an independent mount, against published declinations. */
import { describe, expect, it } from 'vitest'
import { runs } from '../../../src/core/plan/willreachjson.ts'
import { willReach, windows } from '../../../src/core/questions.ts'
import type { MountKind, StationRecord } from '../../../src/core/records/fieldbook.ts'
import { answered } from '../../helpers/answered.ts'
import { authority } from '../../helpers/authorities.ts'
import { DEG } from '../../helpers/degrees.ts'
import { shareOf } from '../../helpers/share.ts'
import { degreesAxis } from '../../helpers/simulate.ts'
import { someOf } from '../../helpers/some.ts'
import { bookOf, gravelPit, weir } from '../../helpers/stations.ts'
import { trueMount } from '../../helpers/truemount.ts'

const MASK = [
  { azDeg: 0, elDeg: 3 },
  { azDeg: 100, elDeg: 16 },
  { azDeg: 250, elDeg: 5 },
]

type Wish = Parameters<typeof willReach>[0]
function asked(record: StationRecord, o: Partial<Wish> = {}) {
  const { site, mount, horizonMask } = record
  return answered(willReach({ site, mount, year: 2026, ...(horizonMask && { horizonMask }), ...o }))
}

/** [kind, latitude, lower limits, upper limits]: each loses something to its limits. */
const PLACES: [MountKind, number, [number, number], [number, number]][] = [
  ['el-over-az', 70, [100, 250], [12, 60]],
  ['ha-dec', -45, [-70, 55], [-22, 29]],
  ['az-over-el', 48, [0, 70], [-45, 50]],
  ['x-y', 2, [-60, 70], [-40, 24]],
]
const SOME = shareOf(PLACES, 1)
const stationAt = ([kind, latDeg, lower, upper]: (typeof PLACES)[number], more: Partial<StationRecord> = {}) => ({
  ...weir(kind, latDeg, degreesAxis(...lower), degreesAxis(...upper)),
  ...more,
})

/** The answer for 2026 at a place behind the mask; asked once for two tests. */
const told = new Map<string, ReturnType<typeof asked>>()
function yearOf(place: (typeof PLACES)[number]) {
  const known = told.get(place[0]) ?? asked(stationAt(place, { horizonMask: MASK }))
  told.set(place[0], known)
  return known
}

/** Hours of the Moon in a span, by windows to the second; the beam so narrow that the floor is 8°. */
function hoursByWindows(record: StationRecord, fromUtc: string, days: number): number {
  const narrow = { ...record, feeds: [{ id: 'a', name: 'a', frequencyMHz: 1296, beamwidthDeg: 1 }] }
  return answered(windows(bookOf(narrow), { now: fromUtc, target: { type: 'moon' }, fromUtc, days })).hours
}

describe('hours of the Moon', () => {
  it.each(SOME)('%s at %f°: of the year and of its months, as windows count them', (...place) => {
    const record = stationAt(place, { horizonMask: MASK })
    const answer = yearOf(place)
    // Ten minutes a time: an edge is off by up to five minutes either way, some 700 a year.
    expect(Math.abs(answer.hours - hoursByWindows(record, '2026-01-01T00:00:00Z', 365))).toBeLessThan(4)
    expect(answer.months).toHaveLength(12)
    expect(Math.abs(answer.months[1]!.hours - hoursByWindows(record, '2026-02-01T00:00:00Z', 28))).toBeLessThan(1.5)
    expect(Math.abs(answer.months[11]!.hours - hoursByWindows(record, '2026-12-01T00:00:00Z', 31))).toBeLessThan(1.5)
    expect(answer.months.reduce((a, m) => a + m.hours, 0)).toBeCloseTo(answer.hours, 9)
    // What is lost and what is reached are all there is.
    const lost = answer.losses.reduce((a, l) => a + l.hours, 0)
    expect(answer.hours + lost).toBeCloseTo(answer.upHours, 9)
    expect(answer.hours / answer.upHours + answer.losses.reduce((a, l) => a + l.share, 0)).toBeCloseTo(1, 9)
    const names = answer.losses.map(l => l.to)
    expect(names).toContain('floor')
    expect(names).toContain('mask')
    expect(names.filter(n => /min|max/.test(n)).length).toBeGreaterThanOrEqual(2)
    expect([...answer.losses].sort((a, b) => b.hours - a.hours)).toEqual(answer.losses)
    const low = answer.losses.find(l => l.to === 'floor')!
    expect(low.elDeg.min).toBeLessThan(0.3)
    expect(low.elDeg.max).toBeGreaterThan(7.7)
    expect(low.elDeg.max).toBeLessThan(8)
  })

  it('span what a polar mount’s limits allow, in hour angle and declination', () => {
    const answer = asked(weir('ha-dec', 40, degreesAxis(-62, 41), degreesAxis(-20, 26)))
    // Ten minutes of hour angle are 2.4°; refraction lifts by 0.1° at most.
    expect(answer.hourAngleDeg!.min).toBeGreaterThan(-62.2)
    expect(answer.hourAngleDeg!.min).toBeLessThan(-59.5)
    expect(answer.hourAngleDeg!.max).toBeLessThan(41.2)
    expect(answer.hourAngleDeg!.max).toBeGreaterThan(38.5)
    expect(answer.declinationDeg!.min).toBeCloseTo(-20, 0)
    expect(answer.declinationDeg!.max).toBeCloseTo(26, 0)
  })

  it('grow by what a limit is given, and by nothing when it was not in the way', () => {
    const at = (max: number) => asked(weir('az-over-el', 48, degreesAxis(0, 90), degreesAxis(-50, max)))
    const [narrow, wide] = [at(40), at(55)]
    expect(wide.hours).toBeGreaterThan(narrow.hours + 100)
    const stopped = (w: typeof wide) => w.losses.find(l => l.to === 'upper-max')?.hours ?? 0
    expect(stopped(narrow) - stopped(wide)).toBeGreaterThan(100)
    expect(at(120).hours).toBe(at(119).hours)
  })

  it('are none where nothing is reached', () => {
    const answer = asked(weir('el-over-az', 70, degreesAxis(170, 190), degreesAxis(80, 90)))
    expect(answer.hours).toBe(0)
    expect(answer.hourAngleDeg).toBeNull()
    expect(answer.best.hours).toBe(0)
  })

  it('name the keyhole of an offset dish, about the ends of its tilt axis', () => {
    const record = weir('az-over-el', 48, degreesAxis(-180, 180), degreesAxis(-180, 180))
    const answer = asked({ ...record, mount: { ...record.mount, boresightOffsetDeg: 25 } })
    const keyhole = answer.losses.find(l => l.to === 'no-pose')!
    expect(keyhole.hours).toBeGreaterThan(100)
    for (const s of someOf(keyhole.sectors)) {
      // The axis lies east and west; the hole is 25° round.
      const off = Math.min(...[90, 270].map(axis => Math.max(Math.abs(s.fromDeg - axis), Math.abs(s.toDeg - axis))))
      expect(off).toBeLessThanOrEqual(30)
    }
    expect(keyhole.elDeg.max).toBeLessThan(25)
    expect(keyhole.elDeg.max).toBeGreaterThan(20)
  })
})

describe('the sky of a mount', () => {
  it.each(PLACES)('%s at %f°: is reached where some pose within the limits gets, and nowhere else', (...place) => {
    const record = stationAt(place)
    const { sky } = asked(record)
    const mount = trueMount(record, {})
    /** Cells whose centre is within half a degree of some pose, with the limits moved outward by so much. */
    const gotTo = (byDeg: number): Set<string> => {
      const out = new Set<string>()
      const [, , [l0, l1], [u0, u1]] = place
      for (let l = l0 - byDeg; l <= l1 + byDeg; l += 0.5)
        for (let u = u0 - byDeg; u <= u1 + byDeg; u += 0.5) {
          const [x, y, z] = mount.pose(l, u, 'beam').b
          if (z < 0) continue
          const az = (Math.atan2(x, y) / DEG + 360) % 360
          const el = Math.asin(Math.min(1, z)) / DEG
          const [a, e] = [Math.floor(az / 5), Math.min(17, Math.floor(el / 5))]
          const [daz, del] = [(az - 5 * a - 2.5) * Math.cos(el * DEG), el - 5 * e - 2.5]
          if (Math.hypot(daz, del) < 0.5) out.add(`${a},${e}`)
        }
      return out
    }
    const [surely, perhaps] = [gotTo(-0.6), gotTo(0.6)]
    let reached = 0
    let stopped = 0
    sky.forEach((column, a) => {
      column.forEach((hindrance, e) => {
        // About the zenith the cells are too narrow for so coarse a search.
        if (e === 17) return
        if (e < 2) {
          // 2.5° and 7.5° are below the floor.
          expect(hindrance).toBe('floor')
          return
        }
        if (surely.has(`${a},${e}`)) {
          expect([a, e, hindrance]).toEqual([a, e, null])
          reached++
        } else if (!perhaps.has(`${a},${e}`)) {
          expect([a, e, hindrance === null]).toEqual([a, e, false])
          stopped++
        }
      })
    })
    // Few are left in doubt.
    expect(reached).toBeGreaterThan(100)
    expect(stopped).toBeGreaterThan(200)
    expect(reached + stopped).toBeGreaterThan(0.9 * 72 * 15)
  })
})

describe('the 18.6 years', () => {
  it('go as far south and north each year as the published standstills, to 0.01°', () => {
    const { rows } = authority('sky/standstills.json') as { rows: [number, string, number, string, number][] }
    const { years } = asked(gravelPit(), { year: 2001 })
    expect(years.map(y => y.year)).toEqual(Array.from({ length: 19 }, (_, k) => 2001 + k))
    for (const [year, , southDeg, , northDeg] of someOf(rows)) {
      const y = years.find(o => o.year === year)!
      expect(Math.abs(y.southDeg - southDeg)).toBeLessThan(0.01)
      expect(Math.abs(y.northDeg - northDeg)).toBeLessThan(0.01)
    }
    // No month goes beyond 28.725°, and a year's farthest is never less than a month's least, 18.134°; that was about 2015.
    for (const y of someOf(years)) {
      expect(Math.max(y.northDeg, -y.southDeg)).toBeLessThan(28.735)
      expect(Math.min(y.northDeg, -y.southDeg)).toBeGreaterThan(18.134)
    }
    const least = years.reduce((a, b) => (b.northDeg < a.northDeg ? b : a))
    expect([2015, 2016]).toContain(least.year)
    expect(least.northDeg).toBeLessThan(18.7)
  })

  it.each(SOME)(
    '%s at %f°: have the hours that each year has by itself, and the best and the worst of them',
    (...place) => {
      const { years, best, worst, hours } = yearOf(place)
      expect(Math.abs(years[0]!.hours / hours - 1)).toBeLessThan(0.01)
      const year = 2034 + PLACES.findIndex(([kind]) => kind === place[0])
      const own = asked(stationAt(place, { horizonMask: MASK }), { year }).hours
      expect(Math.abs(years.find(y => y.year === year)!.hours / own - 1)).toBeLessThan(0.01)
      const all = years.map(y => y.hours)
      expect(best.hours).toBe(Math.max(...all))
      expect(worst.hours).toBe(Math.min(...all))
      expect(years.find(y => y.year === best.year)!.hours).toBe(best.hours)
      // What there is to tell: years differ.
      expect(best.hours / worst.hours).toBeGreaterThan(1.01)
    },
  )
})

describe('a wish that cannot be', () => {
  it.each([
    ['a latitude beyond the pole', { site: { latDeg: 91, lonDeg: 0 } }, /^site\.latDeg/],
    ['limits the wrong way round', { mount: weir('x-y', 0, degreesAxis(10, -10)).mount }, /^mount\.lower/],
    ['a mask of half a point', { horizonMask: [{ azDeg: 3 }] as never }, /^horizonMask/],
    ['a floor above the zenith', { minElevationDeg: 95 }, /minElevationDeg/],
    ['a year and a half', { year: 2026.5 }, /^year/],
    ['a year too early', { year: 1850 }, /^year/],
  ] as [string, Partial<Wish>, RegExp][])('is refused by name: %s', (_, o, path) => {
    const answer = willReach({ site: { latDeg: 50, lonDeg: 8 }, mount: weir('x-y', 50).mount, year: 2026, ...o })
    expect(answer.ok).toBe(false)
    if (!answer.ok) expect(answer.faults[0]!.path).toMatch(path)
  })
})

describe('runs', () => {
  it('go round the circle', () => {
    const f = (text: string) => runs([...text].map(c => c === '1'))
    expect(f('0110010')).toEqual([
      [1, 3],
      [5, 6],
    ])
    expect(f('1100011')).toEqual([[5, 9]])
    expect(f('1111')).toEqual([[0, 4]])
    expect(f('000')).toEqual([])
  })
})

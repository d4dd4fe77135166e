/** Windows against the sky asked minute by minute, against an independent mount and the almanac at every edge, and by rule. */
import { describe, expect, it } from 'vitest'
import { aim, aimer, midRange } from '../../../src/core/mount/aim.ts'
import type { Built } from '../../../src/core/mount/slots.ts'
import { preparedMount } from '../../../src/core/plan/hindrance.ts'
import { windows, windowsText } from '../../../src/core/questions.ts'
import type { FieldBook, MountKind, StationRecord, TargetRecord } from '../../../src/core/records/fieldbook.ts'
import { isHighEnough, type Station } from '../../../src/core/records/station.ts'
import { stationFromRecord, targetFromRecord } from '../../../src/core/records/stationintake.ts'
import { siteFrame, topocentric } from '../../../src/core/sky/earthfixed.ts'
import type { Site } from '../../../src/core/sky/place.ts'
import { apparentDirection, defaultAir } from '../../../src/core/sky/refraction.ts'
import { apparentPlace } from '../../../src/core/sky/targets.ts'
import { bodyTrack } from '../../../src/core/sky/track.ts'
import { azElFromEnu, enuFromAzEl, type Vec3 } from '../../../src/core/vectors.ts'
import { answered } from '../../helpers/answered.ts'
import { authority } from '../../helpers/authorities.ts'
import { DEG } from '../../helpers/degrees.ts'
import { chance } from '../../helpers/random.ts'
import { isWhole } from '../../helpers/share.ts'
import { bookOf, builtFromTruth, degreesAxis, drawScene, KINDS, linearAxis } from '../../helpers/simulate.ts'
import { someOf } from '../../helpers/some.ts'
import { gravelPit, weir } from '../../helpers/stations.ts'
import { apartDeg, type Truth, trueMount } from '../../helpers/truemount.ts'

const FROM = '2026-05-01T00:00:00Z'
const FROM_MS = Date.parse(FROM)
const DAY_MS = 86_400_000

type Wish = Partial<Parameters<typeof windows>[1]>
function asked(book: FieldBook, o: Wish = {}) {
  return answered(windows(book, { now: FROM, target: { type: 'moon' }, fromUtc: FROM, days: 28, ...o }))
}

/** A station whose solution is a given truth: priors so narrow that nothing moves. */
const known = (record: StationRecord, truth: Truth): StationRecord => ({
  ...record,
  priors: Object.entries(truth).map(([id, value]) => ({ id, value, sigma: 1e-7 })),
})

const partnerSite = (latDeg: number, lonDeg: number): Site => ({
  lat: latDeg * DEG,
  lon: lonDeg * DEG,
  heightM: 0,
  air: defaultAir(0),
})

/** Inside or not, by the plainest way: the place, the mask, `aim`, the partner's sky. */
function usableBy(station: Station, built: Built): (direction: Vec3, partnerEl: number) => boolean {
  const onto = aimer(station.model, built, 'beam')
  const mid = midRange(station.model, built)
  return (direction, partnerEl) => {
    const { az, el } = azElFromEnu(direction)
    return isHighEnough(station, station.feeds[0]!, az, el) && partnerEl >= 0 && onto(direction, mid)?.inside === true
  }
}

const MASK = [
  { azDeg: 20, elDeg: 4 },
  { azDeg: 60, elDeg: 22 },
  { azDeg: 75, elDeg: 9 },
  { azDeg: 200, elDeg: 12 },
  { azDeg: 290, elDeg: 18 },
]
const TRUTHS: Record<MountKind, Truth> = {
  'el-over-az': { leanNorth: 1.2, leanEast: -0.8, lowerZero: 3, upperZero: -1.5, squareness: 0.3, sag: 0.2 },
  'ha-dec': { poleEast: -1.1, poleUp: 1.4, lowerZero: 2, upperZero: 1, collimation: 0.4 },
  'az-over-el': { heading: 4, level: -1.3, lowerZero: 2.5, upperZero: -3, collimation: 0.9 },
  'x-y': { heading: -5, level: 0.8, lowerZero: 1, upperZero: -2, squareness: -0.4 },
}

type Limits = [number, number, number, number]
type Other = [latDeg: number, lonDeg: number] | null
const SITES: [MountKind, number, Partial<StationRecord>, Limits, Other][] = [
  ['az-over-el', 70, { horizonMask: MASK }, [0, 60, -65, 65], null],
  ['x-y', 70, {}, [-80, 75, -70, 40], [48, 11]],
  ['ha-dec', 0, { horizonMask: MASK }, [-75, 60, -20, 26], null],
  ['el-over-az', 0, {}, [10, 350, 15, 85], [-34, 151]],
  ['az-over-el', 0, {}, [30, 110, -40, 70], [52, 0]],
  ['x-y', -45, { horizonMask: MASK }, [-70, 70, -15, 60], null],
  ['el-over-az', -45, { horizonMask: MASK }, [-60, 100, 10, 50], [35, -97]],
  ['ha-dec', -45, {}, [-90, 50, -25, 24], null],
]
const CASES: [string, StationRecord, Other][] = SITES.map(([kind, latDeg, more, [a, b, c, d], partner]) => [
  `${kind} at ${latDeg}°${'horizonMask' in more ? ', mask' : ''}${partner ? ', partner' : ''}`,
  { ...weir(kind, latDeg, degreesAxis(a, b), degreesAxis(c, d)), ...more },
  partner,
])

describe('windows against the sky asked every minute of 28 days', () => {
  // The last four: every mount, two with a mask, two with a partner.
  it.each(isWhole ? CASES : CASES.slice(4))('%s', (_, paper, partner) => {
    const truth = TRUTHS[paper.mount.kind]
    const record = known(paper, truth)
    const built = builtFromTruth(record, truth)
    const station = stationFromRecord(record)
    const { site } = station
    const isUsable = usableBy(station, built)
    const other = partner && partnerSite(...partner)
    const answer = asked(bookOf(record), partner ? { partner: { latDeg: partner[0], lonDeg: partner[1] } } : {})
    const spells = answer.spells.map(s => ({ ...s, inMs: Date.parse(s.inUtc), outMs: Date.parse(s.outUtc) }))
    const frames = { own: siteFrame(site), other: other && siteFrame(other) }
    const moon = bodyTrack('moon', FROM_MS, FROM_MS + 28 * DAY_MS)
    let wrong = 0
    let inside = 0
    for (let m = 0; m <= 28 * 1440; m++) {
      const ms = FROM_MS + 60_000 * m
      const direction = apparentDirection(topocentric(moon(ms), frames.own).direction, site.air, 'radio')
      const partnerEl = other
        ? azElFromEnu(apparentDirection(topocentric(moon(ms), frames.other!).direction, other.air, 'radio')).el
        : 0
      const is = isUsable(direction, partnerEl)
      inside += is ? 1 : 0
      if (is !== spells.some(s => ms >= s.inMs && ms <= s.outMs)) {
        // A second is what the edges are stated to.
        const nearest = Math.min(...spells.map(s => Math.min(Math.abs(ms - s.inMs), Math.abs(ms - s.outMs))))
        if (nearest > 1000) wrong++
      }
    }
    expect(wrong).toBe(0)
    expect(inside).toBeGreaterThan(2000)
    expect(Math.abs(answer.hours - inside / 60)).toBeLessThan(0.012 * spells.length + 0.02)

    // Every edge by the almanac itself: inside at the edge, outside a second further, and what ended it is at its end.
    const seen = (ms: number) => {
      const place = apparentPlace({ type: 'moon' }, ms, site, 'radio')
      const partnerEl = other ? apparentPlace({ type: 'moon' }, ms, other, 'radio').el : 0
      return { ...place, partnerEl, is: isUsable(place.direction, partnerEl) }
    }
    for (const s of someOf(spells)) {
      expect(seen(s.inMs).is && seen(s.outMs).is).toBe(true)
      if (s.inBy !== 'span') expect(seen(s.inMs - 1000).is).toBe(false)
      if (s.outBy !== 'span') expect(seen(s.outMs + 1000).is).toBe(false)
      for (const [by, ms] of [[s.inBy, s.inMs] as const, [s.outBy, s.outMs] as const]) {
        const { az, el, direction, partnerEl } = seen(ms)
        const reach = aim(station.model, built, 'beam', direction)!
        if (by === 'floor') expect(Math.abs(el / DEG - 8)).toBeLessThan(0.01)
        else if (by === 'partner') expect(Math.abs(partnerEl / DEG)).toBeLessThan(0.01)
        else if (by === 'mask') expect(isHighEnough(station, station.feeds[0]!, az, el - 0.02 * DEG)).toBe(false)
        else if (by !== 'span') {
          const [axis, end] = by.split('-') as ['lower' | 'upper', 'min' | 'max']
          const limit = record.mount[axis][end === 'min' ? 'minReading' : 'maxReading']
          // Near the zenith an azimuth turns fast: a second of it is 0.1° at 87° of elevation.
          expect(Math.abs(reach[axis] - limit)).toBeLessThan(0.1)
          expect(apartDeg(trueMount(record, truth).pose(reach.lower, reach.upper, 'beam').b, direction)).toBeLessThan(
            1e-6,
          )
        }
      }
    }
  })

  it('the cases between them end spells by floor, mask, partner, each limit of each axis, and the span', () => {
    const ends = new Set(
      CASES.flatMap(([, paper, partner]) => {
        const book = bookOf(known(paper, TRUTHS[paper.mount.kind]))
        const more = partner ? { partner: { latDeg: partner[0], lonDeg: partner[1] } } : {}
        return asked(book, more).spells.flatMap(s => [s.inBy, s.outBy])
      }),
    )
    expect([...ends].sort()).toEqual(
      ['floor', 'lower-max', 'lower-min', 'mask', 'partner', 'span', 'upper-max', 'upper-min'].sort(),
    )
  })

  it('misses no spell of a minute: a gap in a wall that the Moon crosses', () => {
    // 0.7° wide, toward 200° at 47° N, where the Moon turns by 0.2° to 0.65° of azimuth a minute.
    const wall = [
      { azDeg: 0, elDeg: 89 },
      { azDeg: 199.64, elDeg: 89 },
      { azDeg: 199.65, elDeg: 5 },
      { azDeg: 200.35, elDeg: 5 },
      { azDeg: 200.36, elDeg: 89 },
    ]
    const { spells } = asked(bookOf(gravelPit({ horizonMask: wall })))
    // Once a lunar day, none left out: there the Moon is above 8° whenever it is north of -30°.
    expect(spells.length).toBeGreaterThanOrEqual(26)
    spells.forEach((s, k) => {
      expect(s.hours * 60).toBeGreaterThan(1)
      expect(s.hours * 60).toBeLessThan(4)
      if (k > 0) expect(Date.parse(s.inUtc) - Date.parse(spells[k - 1]!.inUtc)).toBeLessThan(26 * 3_600_000)
    })
    expect(Math.min(...spells.map(s => s.hours * 60))).toBeLessThan(1.5)
  })
})

describe('a spell', () => {
  const pit = bookOf(gravelPit())
  const { site } = stationFromRecord(gravelPit())

  it('has its highest place, and declination and distance at its middle', () => {
    const { spells } = asked(pit, { days: 3 })
    expect(spells.length).toBeGreaterThanOrEqual(3)
    for (const s of spells) {
      const [a, b] = [Date.parse(s.inUtc), Date.parse(s.outUtc)]
      expect(s.hours).toBeCloseTo((b - a) / 3_600_000, 9)
      let highest = -90
      for (let ms = a; ms <= b + 20_000; ms += 20_000)
        highest = Math.max(highest, apparentPlace({ type: 'moon' }, Math.min(b, ms), site, 'radio').el / DEG)
      expect(s.maxElDeg).toBeGreaterThan(highest - 1e-6)
      expect(s.maxElDeg).toBeLessThan(highest + 1e-4)
      expect(apparentPlace({ type: 'moon' }, Date.parse(s.maxElUtc), site, 'radio').el / DEG).toBeCloseTo(s.maxElDeg, 4)
      const mid = apparentPlace({ type: 'moon' }, (a + b) / 2, site, 'radio')
      expect(s.middle.distanceKm).toBeCloseTo(mid.distanceKm!, 0)
      // The same with refraction (here below 0.12°) in it.
      const sinDec = Math.sin(mid.el) * Math.sin(site.lat) + Math.cos(mid.el) * Math.cos(mid.az) * Math.cos(site.lat)
      expect(Math.abs(Math.asin(sinDec) / DEG - s.middle.declinationDeg)).toBeLessThan(0.12)
    }
  })

  it('keeps the ends of the span where it is cut, fractions of a second too', () => {
    const [whole] = asked(pit, { days: 2 }).spells.filter(s => s.inBy !== 'span')
    const middle = (Date.parse(whole!.inUtc) + Date.parse(whole!.outUtc)) / 2
    const fromUtc = new Date(Math.floor(middle) - 1_800_000 + 0.25).toISOString().replace(/\.\d+Z/, '.250Z')
    const cut = asked(pit, { fromUtc, days: 1 / 24 })
    expect(cut.spells).toHaveLength(1)
    expect(cut.spells[0]).toMatchObject({ inUtc: fromUtc, hours: 1, inBy: 'span', outBy: 'span' })
    expect(cut.spells[0]!.outUtc).toBe(cut.toUtc)
  })

  it('is one, from end to end, for a target that never sets; none for one that never rises', () => {
    const north = bookOf(gravelPit({ site: { latDeg: 70, lonDeg: 20, heightM: 0 } }))
    const target: TargetRecord = { type: 'source', name: 'Cassiopeia A' }
    const all = asked(north, { target, days: 30 })
    expect(all.spells).toHaveLength(1)
    expect(all.spells[0]).toMatchObject({ inUtc: FROM, outUtc: '2026-05-31T00:00:00Z', hours: 720 })
    expect(all.spells[0]!.middle.distanceKm).toBeNull()
    // Its declination of date, 58.96° (precession 0.0055° a year since 58.815°), at 70° N culminates at 78.96°.
    expect(all.spells[0]!.maxElDeg).toBeCloseTo(78.96, 1)
    expect(all.days.flatMap(d => d.passages.map(p => p.what))).toEqual(Array.from({ length: 30 }, () => 'transit'))
    const south = bookOf(gravelPit({ site: { latDeg: -45, lonDeg: 20, heightM: 0 } }))
    expect(asked(south, { target }).spells).toEqual([])
    expect(asked(south, { target }).hours).toBe(0)
  })

  it('of what stands still is all or nothing', () => {
    const at = (target: TargetRecord) => asked(pit, { target, days: 2 }).spells.map(s => [s.hours, s.inBy])
    expect(at({ type: 'geostationary', lonDeg: 13 })).toEqual([[48, 'span']])
    expect(at({ type: 'geostationary', lonDeg: 120 })).toEqual([])
    expect(at({ type: 'landmark', azDeg: 100, elDeg: 9 })).toEqual([[48, 'span']])
    expect(at({ type: 'landmark', azDeg: 100, elDeg: 7 })).toEqual([])
    expect(asked(pit, { target: { type: 'geostationary', lonDeg: 13 }, days: 1 }).days[0]!.standing.noise).toBeNull()
  })

  it('needs the target above the horizon at both ends; a landmark has one end', () => {
    const near = asked(pit, { partner: { latDeg: 47.1, lonDeg: 9.3 } })
    expect(near.hours).toBeCloseTo(asked(pit).hours, 2)
    const antipode = asked(pit, { partner: { latDeg: -47.1, lonDeg: -170.7 } })
    expect(antipode.spells).toEqual([])
    const partner = { latDeg: 40, lonDeg: -75 }
    const refused = windows(pit, {
      now: FROM,
      target: { type: 'landmark', azDeg: 1, elDeg: 20 },
      fromUtc: FROM,
      days: 1,
      partner,
    })
    expect(refused).toEqual({
      ok: false,
      faults: [{ path: 'partner', rule: 'a landmark cannot be shared with another place' }],
    })
  })

  it('stays with the solution at now: a change moves the mount from then on', () => {
    const record = {
      ...weir('az-over-el', 47, degreesAxis(0, 90), degreesAxis(-30, 30)),
      priors: [{ id: 'heading', value: 0, sigma: 1e-6 }],
      changes: [
        {
          id: 'c',
          utc: '2026-05-10T00:00:00Z',
          what: ['lower-axis'],
          expect: [{ id: 'heading', value: 10, sigma: 1e-6 }],
        },
      ],
    } as StationRecord
    const before = asked(bookOf(record), { now: '2026-05-09T00:00:00Z', days: 5 })
    const after = asked(bookOf(record), { now: '2026-05-11T00:00:00Z', days: 5 })
    // Ten degrees of heading: the swing's stop comes later by more than half an hour.
    const out = (w: typeof before) => Date.parse(w.spells[1]!.outUtc)
    expect(before.spells[1]!.outBy).toBe('upper-max')
    expect(out(after) - out(before)).toBeGreaterThan(1_800_000)
    expect(out(after) - out(before)).toBeLessThan(4_000_000)
  })

  it('says what the echo loses by the distance: -1.3 dB at 356 500 km, +1.0 at 406 700', () => {
    // 269.87, 271.18 and 272.16 dB at 1296 MHz for 356 500, 384 400 and 406 700 km (the radar equation, R⁴).
    const month = asked(pit).spells.map(s => s.middle)
    for (const m of someOf(month)) expect(m.echoPathDb).toBeCloseTo(40 * Math.log10(m.distanceKm! / 384_400), 9)
    const by = (km: number) =>
      month.reduce((a, b) => (Math.abs(b.distanceKm! - km) < Math.abs(a.distanceKm! - km) ? b : a))
    const near = by(356_500)
    expect(near.echoPathDb! + (269.87 - 271.18) * -1).toBeCloseTo(40 * Math.log10(near.distanceKm! / 356_500), 1)
    const far = by(406_700)
    expect(far.echoPathDb! - (272.16 - 271.18)).toBeCloseTo(40 * Math.log10(far.distanceKm! / 406_700), 1)
    expect(asked(pit, { target: { type: 'sun' }, days: 1 }).spells[0]!.middle.echoPathDb).toBeNull()
  })

  it('says what the pointing is expected to lose: the priors alone miss, a known mount loses next to nothing', () => {
    for (const s of someOf(asked(pit, { days: 3 }).spells)) expect(s.pointing.echoLossDb).toBeGreaterThan(6.02)
    const ids = [
      'leanNorth',
      'leanEast',
      'lowerZero',
      'upperZero',
      'lowerScale',
      'upperScale',
      'squareness',
      'collimation',
      'sag',
    ]
    const feeds = ['feedRight', 'feedUp', 'feedDroop', 'squintRight', 'squintUp'].map(id => `${id}:a`)
    const sure = gravelPit({
      priors: [...ids, ...feeds].map(id => ({ id, value: 0, sigma: id === 'upperZero' ? 0.3 : 1e-6 })),
    })
    // Only the elevation's zero is open, by 0.3°: the error is 0.3° everywhere.
    for (const s of someOf(asked(bookOf(sure), { days: 3 }).spells)) {
      expect(s.pointing.rmsDeg).toBeCloseTo(0.3, 3)
      const hpbwDeg = (70 * 299.792458) / 1296 / 3
      expect(s.pointing.echoLossDb).toBeCloseTo(24.08 * (0.3 / hpbwDeg) ** 2, 3)
    }
  })
})

describe('days and passages', () => {
  it('share out the hours of the spells, and hold each rise, transit and set', () => {
    const w = asked(bookOf(gravelPit()), { days: 27.5 })
    expect(w.days).toHaveLength(28)
    expect(w.days.reduce((a, d) => a + d.hours, 0)).toBeCloseTo(w.hours, 9)
    const passages = w.days.flatMap(d => d.passages)
    const { site } = stationFromRecord(gravelPit())
    for (const p of someOf(passages)) {
      const ms = Date.parse(p.utc)
      const el = (t: number) => apparentPlace({ type: 'moon' }, t, site, 'radio').el
      if (p.what === 'rise') expect(el(ms - 1000) < 0 && el(ms + 1000) > 0).toBe(true)
      else if (p.what === 'set') expect(el(ms - 1000) > 0 && el(ms + 1000) < 0).toBe(true)
      // A second turns the azimuth by at most 0.015° at these elevations.
      else expect(Math.abs(p.azDeg - 180)).toBeLessThan(0.015)
    }
    // 27.5 days are 26.6 lunar days.
    for (const what of ['rise', 'transit', 'set'])
      expect([26, 27]).toContain(passages.filter(p => p.what === what).length)
    for (const d of someOf(w.days))
      for (const p of d.passages) {
        expect(Date.parse(p.utc)).toBeGreaterThanOrEqual(Date.parse(d.fromUtc))
        expect(Date.parse(p.utc)).toBeLessThan(Date.parse(d.fromUtc) + DAY_MS)
        if (p.what === 'transit') expect(d.standing.utc).toBe(p.utc)
      }
  })
})

describe('windows as CSV', () => {
  const text = (o: Wish = {}) => {
    return answered(
      windowsText(bookOf(gravelPit()), {
        as: 'csv',
        now: FROM,
        target: { type: 'moon' },
        fromUtc: FROM,
        days: 5,
        ...o,
      }),
    )
  }

  it('has the header, a row a spell, CRLF on every line', () => {
    const csv = text()
    expect(csv.startsWith('inUtc,outUtc,hours,maxElDeg,declinationDeg,distanceKm\r\n')).toBe(true)
    expect(csv.endsWith('\r\n')).toBe(true)
    expect(csv.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/)
    const rows = csv
      .trim()
      .split('\r\n')
      .slice(1)
      .map(l => l.split(','))
    const { spells } = asked(bookOf(gravelPit()), { days: 5 })
    expect(rows.length).toBe(spells.length)
    rows.forEach((r, k) => {
      const s = spells[k]!
      expect(r.slice(0, 2)).toEqual([s.inUtc, s.outUtc])
      expect(r[0]).toMatch(/^2026-05-0\dT\d\d:\d\d:\d\dZ$/)
      for (const [i, x] of [
        [2, s.hours],
        [3, s.maxElDeg],
        [4, s.middle.declinationDeg],
      ] as const) {
        expect(r[i]).toMatch(/^-?\d+\.\d{4}$/)
        expect(Math.abs(Number(r[i]) - x)).toBeLessThan(5.1e-5)
      }
      expect(Math.abs(Number(r[5]) - s.middle.distanceKm!)).toBeLessThan(0.51)
    })
  })

  it('leaves the distance empty where there is none, and is the header alone where there is no spell', () => {
    expect(text({ target: { type: 'source', name: 'Cyg A' } }).split('\r\n')[1]).toMatch(/,$/)
    expect(text({ target: { type: 'landmark', azDeg: 0, elDeg: 1 } })).toBe(
      'inUtc,outUtc,hours,maxElDeg,declinationDeg,distanceKm\r\n',
    )
  })
})

describe('what hinders', () => {
  it.each(KINDS)('names nothing exactly where aim says inside, and a limit that is really passed (%s)', kind => {
    const c = chance(77)
    const found = new Set<string>()
    for (const jacks of [false, true]) {
      const record = jacks
        ? drawScene(901, { kind, lower: 'jack', upper: 'jack' }).record
        : {
            ...weir(kind, 40),
            mount: { ...weir(kind, 40).mount, lower: linearAxis(c, 10, 80), upper: degreesAxis(-30, 40) },
          }
      const station = stationFromRecord(record)
      const built = builtFromTruth(record, TRUTHS[kind])
      const outlook = preparedMount(station, station.feeds[0]!, built)
      for (let k = 0; k < 2000; k++) {
        const [az, el] = [c.between(0, 2 * Math.PI), Math.asin(c.next())]
        const t = enuFromAzEl(az, el)
        const h = outlook.hindrance(t, az, el)
        found.add(h ?? 'none')
        const reach = aim(station.model, built, 'beam', t)
        const high = isHighEnough(station, station.feeds[0]!, az, el)
        expect(h === null).toBe(high && reach?.inside === true)
        expect(outlook.isReached(t)).toBe(reach?.inside === true)
        if (!high) expect(h).toBe('floor')
        if (h === 'no-pose' || h?.endsWith('triangle')) expect(reach).toBeNull()
        else if (high && h !== null) expect(reach).not.toBeNull()
      }
    }
    expect(found.has('none')).toBe(true)
    expect([...found].some(f => /-(min|max|triangle)$/.test(f))).toBe(true)
  })
})

describe('targets of all types', () => {
  it('are inside at their edges and outside beyond them: Sun and sources', () => {
    const record = gravelPit({ horizonMask: MASK })
    const station = stationFromRecord(record)
    const { site } = station
    const isUsable = usableBy(station, builtFromTruth(record, {}))
    for (const target of [
      { type: 'sun' },
      { type: 'source', name: 'Tau A' },
      { type: 'source', name: 'Cyg A' },
    ] as const) {
      const { spells } = asked(bookOf(record), { target, days: 6 })
      expect(spells.length).toBeGreaterThanOrEqual(6)
      const is = (ms: number) => isUsable(apparentPlace(targetFromRecord(target), ms, site, 'radio').direction, 0)
      for (const s of spells) {
        expect(is(Date.parse(s.inUtc)) && is(Date.parse(s.outUtc))).toBe(true)
        if (s.inBy !== 'span') expect(is(Date.parse(s.inUtc) - 1000)).toBe(false)
        if (s.outBy !== 'span') expect(is(Date.parse(s.outUtc) + 1000)).toBe(false)
      }
    }
  })
})

describe('passages', () => {
  it('agree with 40 upper transits computed elsewhere to 1 s, and with their elevation to 0.01°', () => {
    const { rows } = authority('sky/sun-transit.json') as {
      rows: [string, string, number, number, number, string, string, number, number][]
    }
    for (const [type, , latDeg, lonDeg, heightM, day, utc, , elDeg] of someOf(rows)) {
      const book = bookOf(gravelPit({ site: { latDeg, lonDeg, heightM } }))
      const w = asked(book, { target: { type } as TargetRecord, fromUtc: `${day}T00:00:00Z`, days: 1.1 })
      const transit = w.days.flatMap(d => d.passages).find(p => p.what === 'transit')!
      // Stated to the second.
      expect(Math.abs(Date.parse(transit.utc) - Date.parse(utc))).toBeLessThanOrEqual(1000)
      const { site } = stationFromRecord(gravelPit({ site: { latDeg, lonDeg, heightM } }))
      const lift = apparentDirection(enuFromAzEl(0, elDeg * DEG), site.air, 'radio')
      expect(Math.abs(transit.elDeg - azElFromEnu(lift).el / DEG)).toBeLessThan(0.01)
    }
    expect(rows.length).toBe(40)
  })
})

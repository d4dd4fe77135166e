/** A tracking program against ours: a confusion table of drawn faults, and what each answer says. */
import { describe, expect, it } from 'vitest'
import type { ProgramVerdict } from '../../../src/core/check/program.ts'
import { program } from '../../../src/core/questions.ts'
import type { TargetRecord } from '../../../src/core/records/fieldbook.ts'
import { stationFromRecord } from '../../../src/core/records/stationintake.ts'
import { apparentPlace } from '../../../src/core/sky/targets.ts'
import { answered } from '../../helpers/answered.ts'
import { DEG } from '../../helpers/degrees.ts'
import { confusion, FAULTS } from '../../helpers/programtrials.ts'
import { bookOf, gravelPit } from '../../helpers/stations.ts'

const NOW = '2026-05-01T12:00:00Z'
const record = gravelPit()
const { site } = stationFromRecord(record)
const book = bookOf(record)
const [feed] = record.feeds
const hpbwDeg = feed!.beamwidthDeg ?? (70 * 299.792458) / feed!.frequencyMHz / record.dish.diameterM

/** Two instants an hour and a half apart, the Moon between 10° and 60°. */
const TIMES = ['2026-05-01T21:30:00Z', '2026-05-01T23:00:00Z']
const placeAt = (utc: string, laterS = 0, target: TargetRecord = { type: 'moon' }) => {
  const { az, el } = apparentPlace(target as never, Date.parse(utc) + 1000 * laterS, site, 'radio')
  return { azDeg: az / DEG, elDeg: el / DEG }
}
function asked(o: Partial<Parameters<typeof program>[1]> & Pick<Parameters<typeof program>[1], 'shown'>) {
  return answered(program(book, { now: NOW, target: { type: 'moon' }, ...o }))
}

describe('the cause of a difference', () => {
  it('is named right, or said to be none or one of several, never another: 25 draws of each, two places with 0.05° of noise', () => {
    const table = confusion(25, 2, 1)
    for (const fault of FAULTS) {
      const right: ProgramVerdict = fault === 'wrong-place' ? 'none' : fault
      const counts = table[fault]
      const others = Object.keys(counts).filter(v => v !== right && v !== 'none' && v !== 'several')
      expect([fault, others]).toEqual([fault, []])
      // Where a target rises straight up, a lift or a parallax can be a clock as well: then both are offered.
      const least = fault === 'refraction' ? 15 : fault === 'geocentric' ? 18 : 25
      expect([fault, (counts[right] ?? 0) >= least]).toEqual([fault, true])
    }
  })

  it('by one place alone: no drawn fault but the smallest is taken for another', () => {
    const table = confusion(25, 1, 2)
    for (const fault of FAULTS) {
      const right: ProgramVerdict = fault === 'wrong-place' ? 'none' : fault
      // A lift of 0.2° in one place is four σ: it can pass for agreement.
      const others = Object.keys(table[fault]).filter(
        v => v !== right && v !== 'none' && v !== 'several' && !(fault === 'refraction' && v === 'agrees'),
      )
      expect([fault, others]).toEqual([fault, []])
    }
  })

  it('is a clock to a few seconds, its sign that of the program: ahead shows the later place', () => {
    for (const s of [-300, 200, 700]) {
      const { verdict, fits } = asked({ shown: TIMES.map(utc => ({ utc, ...placeAt(utc, s) })) })
      expect(verdict).toBe('clock')
      expect(Math.abs(fits[0]!.clockS! - s)).toBeLessThan(2)
      expect(fits[0]!.leftDeg).toBeLessThan(0.01)
    }
    const { verdict, fits } = asked({ shown: TIMES.map(utc => ({ utc, ...placeAt(utc, -3600) })) })
    expect([verdict, fits[0]!.clockS]).toEqual(['summer-time', -3600])
  })

  it('is left open where a place alone cannot tell: 7.5° of longitude with the wrong sign is an hour', () => {
    const there = gravelPit({ site: { latDeg: 47, lonDeg: 7.5, heightM: 0 } })
    const turned = stationFromRecord(gravelPit({ site: { latDeg: 47, lonDeg: -7.5, heightM: 0 } })).site
    const utc = '2026-05-01T09:00:00Z'
    const { az, el } = apparentPlace({ type: 'sun' }, Date.parse(utc), turned, 'radio')
    const answer = answered(
      program(bookOf(there), {
        now: NOW,
        target: { type: 'sun' },
        shown: [{ utc, azDeg: az / DEG, elDeg: el / DEG }],
      }),
    )
    expect(answer.verdict).toBe('several')
    expect(answer.fits.map(f => f.cause).sort()).toEqual(['longitude-sign', 'summer-time'])
  })

  it('left open, comes with a later look that settles it: what either cause would show there is named right', () => {
    const there = gravelPit({ site: { latDeg: 47, lonDeg: 7.5, heightM: 0 } })
    const turned = stationFromRecord(gravelPit({ site: { latDeg: 47, lonDeg: -7.5, heightM: 0 } })).site
    const here = stationFromRecord(there).site
    const shows = {
      'longitude-sign': (target: TargetRecord, ms: number) => apparentPlace(target as never, ms, turned, 'radio'),
      'summer-time': (target: TargetRecord, ms: number) =>
        apparentPlace(target as never, ms - 3_600_000, here, 'radio'),
    }
    for (const cause of ['longitude-sign', 'summer-time'] as const) {
      const row = (target: TargetRecord, utc: string) => {
        const { az, el } = shows[cause](target, Date.parse(utc))
        return { utc, target, azDeg: az / DEG, elDeg: el / DEG }
      }
      const first = row({ type: 'sun' }, '2026-05-01T09:00:00Z')
      const of = (shown: ReturnType<typeof row>[]) => {
        return answered(program(bookOf(there), { now: NOW, target: { type: 'sun' }, shown }))
      }
      const open = of([first])
      expect(open.verdict).toBe('several')
      const { target, utc, apartDeg } = open.telling!
      expect(Date.parse(utc)).toBeGreaterThan(Date.parse(first.utc))
      expect(apartDeg).toBeGreaterThan(0.24)
      const closed = of([first, row(target, utc)])
      expect([cause, closed.verdict, closed.telling]).toEqual([cause, cause, null])
    }
  })

  it('is looked for in places of different targets together: a Moon alone from the Earth’s centre, beside a Sun that agrees', () => {
    const utc = '2026-05-01T18:20:00Z'
    const sun = { utc, target: { type: 'sun' } as const, ...placeAt(utc, 0, { type: 'sun' }) }
    const late = TIMES[0]!
    const moon = placeAt(late)
    const low = { utc: late, azDeg: moon.azDeg, elDeg: moon.elDeg + 0.8 }
    // A lift of the Moon alone is no clock once the Sun is seen to be right.
    const { fits, verdict } = asked({ shown: [low, sun] })
    expect(['geocentric', 'none']).toContain(verdict)
    expect(fits.map(f => f.cause)).not.toContain('clock')
  })

  it('may come with refraction left out besides, and says so', () => {
    const bare = { ...site, air: { ...site.air, pressureHPa: 0, humidity: 0 } }
    const utc = '2026-05-01T19:22:00Z'
    const shown = [0, 300].map(s => {
      const at = new Date(Date.parse(utc) + 1000 * s).toISOString()
      const { az, el } = apparentPlace({ type: 'moon' }, Date.parse(at), bare, 'radio')
      return { utc: at, azDeg: (az / DEG + 180) % 360, elDeg: el / DEG }
    })
    expect(shown[0]!.elDeg).toBeLessThan(4)
    const { verdict, fits } = asked({ shown, sigmaDeg: 0.02 })
    expect(verdict).toBe('azimuth-from-south')
    expect(fits[0]!.withoutRefraction).toBe(true)
  })
})

describe('the rows', () => {
  it('say where ours is, how far theirs, and by how much the readings differ', () => {
    const shown = TIMES.map(utc => {
      const p = placeAt(utc)
      return { utc, azDeg: p.azDeg, elDeg: p.elDeg + 0.04, lower: p.azDeg + 1, upper: p.elDeg - 2 }
    })
    const { verdict, rows } = asked({ shown })
    expect(verdict).toBe('agrees')
    rows.forEach((r, k) => {
      const ours = placeAt(TIMES[k]!)
      expect(r.azDeg).toBeCloseTo(ours.azDeg, 6)
      expect(r.elDeg).toBeCloseTo(ours.elDeg, 6)
      expect(r.apartDeg).toBeCloseTo(0.04, 6)
      // 70 λ/D, and 24.08 dB by the square of it.
      expect(r.echoLossDb).toBeCloseTo(24.08 * (0.04 / hpbwDeg) ** 2, 6)
      // Elevation over azimuth on paper, nothing solved: readings are azimuth and elevation.
      expect(r.corrected!.lower).toBeCloseTo(ours.azDeg, 6)
      expect(r.paper).toEqual(r.corrected)
      expect(r.differ!.lower).toBeCloseTo(1, 6)
      expect(r.differ!.upper).toBeCloseTo(-2, 6)
    })
    expect(asked({ shown: [{ utc: TIMES[0]!, ...placeAt(TIMES[0]!) }] }).rows[0]!.differ).toBeNull()
  })

  it('refuses to be asked about nothing', () => {
    expect(program(book, { now: NOW, target: { type: 'moon' }, shown: [] })).toEqual({
      ok: false,
      faults: [{ path: 'shown', rule: 'there must be at least one place that the program shows' }],
    })
  })
})

/** The target table: RFC 4180 text, exactly as described, and readings that really point. */
import { describe, expect, it } from 'vitest'
import { targetRows } from '../../../src/core/export/targets.ts'
import { targets } from '../../../src/core/questions.ts'
import type { FieldBook, StationRecord, TargetRecord } from '../../../src/core/records/fieldbook.ts'
import { stationFromRecord } from '../../../src/core/records/stationintake.ts'
import { apparentPlace } from '../../../src/core/sky/targets.ts'
import { answered } from '../../helpers/answered.ts'
import { DEG } from '../../helpers/degrees.ts'
import { isFormula, parseCsv } from '../../helpers/rfc4180.ts'
import { bookOf, builtFromTruth, drawScene, KINDS, START_MS, sightMany, utcOf } from '../../helpers/simulate.ts'
import { someOf } from '../../helpers/some.ts'
import { apartDeg, type Truth, trueMount } from '../../helpers/truemount.ts'

const NOW = utcOf(START_MS)

type Wish = Omit<Parameters<typeof targets>[1], 'now' | 'target' | 'fromUtc'> & {
  target?: TargetRecord
  fromUtc?: string
}
function table(book: FieldBook, o: Wish): { text: string; rows: string[][] } {
  const answer = answered(targets(book, { now: NOW, target: { type: 'moon' }, fromUtc: NOW, ...o }))
  const text = answer
  return {
    text,
    rows: text
      .split('\r\n')
      .slice(1, -1)
      .map(line => line.split(',')),
  }
}

/** A station whose solution is a given truth: priors so narrow that nothing moves. */
const known = (record: StationRecord, truth: Truth): StationRecord => ({
  ...record,
  priors: Object.entries(truth).map(([id, value]) => ({ id, value, sigma: 1e-7 })),
})

describe('targets', () => {
  const scene = drawScene(860, { kind: 'az-over-el', lower: 'degrees', upper: 'jack' })
  const book = bookOf({ ...scene.record, sightings: sightMany(scene, 8) })

  it('has the header, CRLF on every line, degrees to 4 decimals and counts to 2', () => {
    const { text, rows } = table(book, { hours: 24, stepS: 1800 })
    expect(text.startsWith('utc,target,azDeg,elDeg,lower,upper,reachable\r\n')).toBe(true)
    expect(text.endsWith('\r\n')).toBe(true)
    expect(text.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/)
    expect(rows.length).toBe(48)
    for (const [utc, target, az, el, lower, upper, reachable] of rows) {
      expect(utc).toMatch(/^2026-05-0[12]T\d\d:\d\d:00Z$/)
      expect(target).toBe('moon')
      expect(az).toMatch(/^\d{1,3}\.\d{4}$/)
      expect(Number(az)).toBeLessThan(360)
      expect(el).toMatch(/^-?\d{1,2}\.\d{4}$/)
      expect(lower === '' ? '0.0000' : lower).toMatch(/^-?\d+\.\d{4}$/)
      expect(upper === '' ? '0.00' : upper).toMatch(/^-?\d+\.\d{2}$/)
      expect(['true', 'false']).toContain(reachable)
    }
  })

  it.each([
    [1, 3600, 1],
    [1, 1800, 2],
    [0.5, 700, 3],
    [1.1, 1, 3960],
    [2.2, 60, 132],
    [0.3, 108, 10],
    [1, 3601, 1],
  ])('has the rows k with k · step < hours: %f h in steps of %f s give %i', (hours, stepS, count) => {
    // A landmark: no almanac to ask.
    expect(table(book, { hours, stepS, target: { type: 'landmark', azDeg: 170, elDeg: 20 } }).rows.length).toBe(count)
  })

  it('writes utc without a fraction when whole, with one when not', () => {
    const utcs = table(book, {
      hours: 0.001,
      stepS: 0.5,
      target: { type: 'landmark', azDeg: 170, elDeg: 20 },
    }).rows.map(r => r[0])
    expect(utcs.slice(0, 3)).toEqual(['2026-05-01T00:00:00Z', '2026-05-01T00:00:00.500Z', '2026-05-01T00:00:01Z'])
    const late = table(book, { hours: 0.001, stepS: 2, fromUtc: '2026-05-01T00:00:00.250Z' }).rows.map(r => r[0])
    expect(late).toEqual(['2026-05-01T00:00:00.250Z', '2026-05-01T00:00:02.250Z'])
  })

  it('leaves the readings empty out of reach and below the floor, unless all are asked for', () => {
    const { rows } = table(book, { hours: 24, stepS: 600 })
    const all = table(book, { hours: 24, stepS: 600, allReadings: true }).rows
    for (const r of rows) expect(r[6] === 'true').toBe(r[4] !== '' && r[5] !== '')
    expect(rows.filter(r => r[6] === 'true').length).toBeGreaterThan(20)
    const low = all.filter(r => Number(r[3]) < 8 && Number(r[3]) > 1 && r[4] !== '')
    expect(low.length).toBeGreaterThan(3)
    for (const r of low) expect(r[6]).toBe('false')
    // What is reachable is the same in both.
    rows.forEach((r, k) => {
      if (r[6] === 'true') expect(all[k]).toEqual(r)
    })
  })

  it('has no readings where there is no pose, not even when all are asked for', () => {
    // Two jacks have no readings for what lies behind the mount.
    const jacks = drawScene(861, { kind: 'az-over-el', lower: 'jack', upper: 'jack', latDeg: 50 }).record
    const behind = { hours: 1, stepS: 3600, target: { type: 'landmark', azDeg: 0, elDeg: 5 } } as const
    for (const allReadings of [false, true])
      expect(table(bookOf(jacks), { ...behind, allReadings }).text.split('\r\n')[1]).toMatch(
        /,0\.0000,5\.0000,,,false$/,
      )
  })

  it('gives the same bytes for the same file and the same now', () => {
    const again = JSON.parse(JSON.stringify(book)) as FieldBook
    expect(table(again, { hours: 12, stepS: 300 }).text).toBe(table(book, { hours: 12, stepS: 300 }).text)
  })

  it('names sources, satellites and landmarks as the command line does', () => {
    const name = (target: TargetRecord) => {
      const answer = targets(book, { now: NOW, target, fromUtc: NOW, hours: 1, stepS: 3600 })
      return answer.ok ? answer.value.split('\r\n')[1]! : ''
    }
    expect(name({ type: 'geostationary', lonDeg: -19.2 })).toContain(',geostationary:-19.2,')
    expect(name({ type: 'source', name: 'Cassiopeia A' })).toContain(',source:Cassiopeia A,')
    // A comma in a field is quoted (RFC 4180).
    expect(name({ type: 'landmark', azDeg: 170, elDeg: 20 })).toContain(',"landmark:170,20",')
  })

  it('is read by a strict parser of RFC 4180, every target, with and without all readings', () => {
    const wishes: TargetRecord[] = [
      { type: 'moon' },
      { type: 'source', name: 'Sagittarius A*' },
      { type: 'geostationary', lonDeg: -19.2 },
      { type: 'landmark', azDeg: 170, elDeg: 20 },
    ]
    for (const target of wishes)
      for (const allReadings of [false, true]) {
        const { text } = table(book, { target, hours: 6, stepS: 1800, allReadings })
        const [head, ...rows] = parseCsv(text)
        expect(head).toEqual(['utc', 'target', 'azDeg', 'elDeg', 'lower', 'upper', 'reachable'])
        expect(rows).toHaveLength(12)
        for (const [utc, , az, el, lower, upper, reachable] of rows) {
          expect(Number.isFinite(Date.parse(utc!))).toBe(true)
          for (const x of [az, el]) expect(x).toMatch(/^-?\d+\.\d{4}$/)
          expect(reachable).toMatch(/^(true|false)$/)
          if (reachable === 'false' && !allReadings) expect([lower, upper]).toEqual(['', ''])
        }
      }
  })

  it('has no cell that a spreadsheet takes for a formula, whatever station and feed are called', () => {
    const named = structuredClone(book)
    const [station] = named.stations
    station!.name = '=1+1'
    station!.feeds[0]!.name = '@SUM(A1)'
    for (const target of [{ type: 'moon' }, { type: 'source', name: 'Cygnus A' }] as const) {
      const { text } = table(named, { target, hours: 24, stepS: 3600, allReadings: true })
      expect(parseCsv(text).flat().filter(isFormula)).toEqual([])
      expect(text).not.toContain('=1+1')
    }
    // A name that is none of the known sources does not come so far.
    const forged = { type: 'source', name: '=1+1' } as const
    expect(() => table(named, { target: forged, hours: 1, stepS: 60 })).toThrow(/no source/)
  })

  it('says which feeds there are when one is named that is not', () => {
    const answer = targets(book, { now: NOW, target: { type: 'moon' }, fromUtc: NOW, hours: 1, stepS: 60, feed: 'z' })
    expect(answer.ok).toBe(false)
    if (!answer.ok) expect(answer.faults[0]!.rule).toContain('"a"')
  })
})

describe('the readings of the table', () => {
  it.each(KINDS.flatMap(kind => [[kind, 47] as const, [kind, -34] as const]))(
    'put the named feed’s true beam on the place within half a printed digit, on %s at latitude %i',
    (kind, latDeg) => {
      const scene = drawScene(870, { kind, latDeg, feeds: 2, lower: 'degrees', upper: 'degrees', wild: false })
      const truth: Truth = { ...scene.truths[0]!.truth, 'feedRight:b': 40, 'feedUp:b': -25 }
      for (const id of ['tubeRight', 'tubeUp', 'lowerPlay', 'upperPlay']) delete truth[id]
      const book = bookOf(known(scene.record, truth))
      const mount = trueMount(scene.record, truth)
      const station = stationFromRecord(scene.record)
      for (const feed of ['a', 'b']) {
        const { rows } = table(book, { hours: 24, stepS: 1800, feed, allReadings: true })
        let reached = 0
        for (const [utc, , az, el, lower, upper] of someOf(rows)) {
          const place = apparentPlace({ type: 'moon' }, Date.parse(utc!), station.site, 'radio')
          expect(Math.abs(place.el / DEG - Number(el))).toBeLessThan(6e-5)
          expect(Math.abs(place.az / DEG - Number(az))).toBeLessThan(6e-5)
          if (lower === '') continue
          reached++
          // Half of 1e-4° on either axis.
          expect(apartDeg(mount.pose(Number(lower), Number(upper), 'beam', feed).b, place.direction)).toBeLessThan(
            1.2e-4,
          )
        }
        expect(reached).toBeGreaterThan(20)
      }
      const paper = table(book, { hours: 24, stepS: 1800, uncorrected: true, allReadings: true })
      const onPaper = trueMount(scene.record, {})
      for (const [utc, , , , lower, upper] of someOf(paper.rows)) {
        if (lower === '') continue
        const { direction } = apparentPlace({ type: 'moon' }, Date.parse(utc!), station.site, 'radio')
        expect(apartDeg(onPaper.pose(Number(lower), Number(upper), 'beam').b, direction)).toBeLessThan(1.2e-4)
      }
    },
  )

  it('go on round the azimuth without a jump where the limits allow it, nearest the previous row', () => {
    const scene = drawScene(871, { kind: 'el-over-az', latDeg: -34, lower: 'degrees', upper: 'degrees' })
    const record = {
      ...scene.record,
      mount: {
        ...scene.record.mount,
        lower: { readout: { type: 'degrees' as const }, minReading: -180, maxReading: 540 },
      },
    }
    const station = stationFromRecord(record)
    // In the south the Moon crosses north: azimuth goes from 1° to 359°.
    const rows = targetRows(station, station.feeds[0]!, builtFromTruth(record, {}), { type: 'moon' }, START_MS, 48, 300)
    const jumps: number[] = []
    rows.slice(1).forEach((r, k) => {
      const before = rows[k]!
      if (r.reachable && before.reachable) jumps.push(Math.abs(r.lower! - before.lower!))
    })
    expect(jumps.length).toBeGreaterThan(100)
    expect(rows.some(r => r.azDeg > 350) && rows.some(r => r.azDeg < 10)).toBe(true)
    expect(Math.max(...jumps)).toBeLessThan(10)
    // The first row is nearest mid-range, 180°.
    expect(Math.abs(rows[0]!.lower! - 180)).toBeLessThanOrEqual(180)
  })
})

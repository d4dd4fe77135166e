import { describe, expect, it } from 'vitest'
import type { Report } from '../../../src/core/export/report.ts'
import { reportTextOf } from '../../../src/core/export/reporttext.ts'
import { report, reportText, solve } from '../../../src/core/questions.ts'
import { withDismissed } from '../../../src/core/records/dismissed.ts'
import type { FieldBook, StationRecord } from '../../../src/core/records/fieldbook.ts'
import { answered } from '../../helpers/answered.ts'
import { demoBook } from '../../helpers/demobook.ts'
import { stationWith } from '../../helpers/many.ts'
import { bookOf } from '../../helpers/simulate.ts'
import { someOf } from '../../helpers/some.ts'

const NOW = '2026-05-25T12:00:00Z'
const reportFor = (book: FieldBook, feed?: string): Report =>
  answered(report(book, { now: NOW, ...(feed !== undefined && { feed }) }))
const station = (more: Partial<StationRecord> = {}): StationRecord => ({ ...stationWith(24, 2), ...more })
const textOf = (r: Report): string => reportTextOf(r, 'Moonplumb 9.9.9')

describe('the field report', () => {
  it('has the numbers of the solution for the same time and feed, and only that feed’s own', () => {
    const [first] = stationWith(24, 2).feeds
    const book = bookOf(
      station({
        feeds: [first!, { id: 'horn', name: 'Horn', frequencyMHz: 5760 }],
        sightings: stationWith(24, 2).sightings.map(s => ({ ...s, feed: first!.id })),
      }),
    )
    const solved = answered(solve(book, { now: NOW, feed: first!.id }))
    const r = reportFor(book, first!.id)
    const { parameters, ...rest } = r.solution
    const { parameters: all, ...same } = solved
    expect(rest).toEqual(same)
    expect(all.some(p => p.feed === 'horn')).toBe(true)
    expect(parameters).toEqual(all.filter(p => p.feed !== 'horn'))
    expect(r.feed).toMatchObject({ id: first!.id, name: first!.name })
  })

  it('counts what was measured, method by method, and what came of it', () => {
    const full = station({
      references: [
        { id: 'r1', utc: '2026-04-02T08:00:00Z', axis: 'upper', mark: 'inner stop', reading: 3 },
        { id: 'r2', utc: '2026-03-30T08:00:00Z', axis: 'upper', mark: 'inner stop', reading: 3 },
      ],
      levels: [
        { id: 'l1', utc: '2026-05-30T08:00:00Z', what: 'lower-axis-elevation', valueDeg: 0.4, sigmaDeg: 0.2 },
        { id: 'l2', utc: '2026-04-02T09:00:00Z', what: 'lower-axis-elevation', valueDeg: 0.5, sigmaDeg: 0.1 },
      ],
    })
    const r = reportFor(bookOf(full))
    const sightings = r.measured.filter(m => m.of === 'sightings')
    for (const row of someOf(sightings)) {
      const these = full.sightings.filter(s => s.method === row.method)
      const status = (wanted: string) =>
        these.filter(s => r.solution.sightings.find(t => t.id === s.id)?.status === wanted).length
      expect(row).toMatchObject({
        count: these.length,
        used: status('used'),
        aside: status('outlier'),
        excluded: status('excluded'),
        sun: these.filter(s => s.target.type === 'sun').length,
        moon: these.filter(s => s.target.type === 'moon').length,
      })
    }
    expect(sightings.reduce((n, row) => n + row.count, 0)).toBe(24)
    expect(sightings.reduce((n, row) => n + row.used, 0)).toBe(r.solution.fit.used)
    expect(sightings.reduce((n, row) => n + row.aside, 0)).toBe(2)
    expect(r.measured.filter(m => m.of !== 'sightings')).toEqual([
      { of: 'levels', what: 'lower-axis-elevation', count: 2, sigmaDeg: { least: 0.1, most: 0.2 } },
      { of: 'references', count: 2 },
    ])
    expect(r.measuredUtc).toEqual({ from: '2026-03-30T08:00:00Z', to: '2026-05-30T08:00:00Z' })
  })

  it('names what is suspected and still stands, not what the person has dismissed', () => {
    // The demo's counter lost counts, and the demo says so.
    const book = demoBook()
    const asked = { now: '2026-05-13T08:40:00Z' }
    const made = answered(report(book, asked))
    const { suspects, solution } = made
    expect(suspects.length).toBeGreaterThan(0)
    expect(suspects).toEqual(solution.suspects)
    const text = textOf(made)
    expect(text).toContain(suspects[0]!.text)
    expect(text).toContain('something is suspected')
    expect(text).not.toMatch(/^ {2}Within tolerance\.$/m)
    const put = { ...book, stations: [suspects.reduce((s, one) => withDismissed(s, one), book.stations[0]!)] }
    const after = answered(report(put, asked))
    expect(after.solution.suspects.length).toBe(suspects.length)
    expect(after.suspects).toEqual([])
    expect(textOf(after)).toContain('STILL SUSPECTED\n  nothing\n')
  })

  it('tells the changes up to now, the latest first', () => {
    const change = (id: string, utc: string) => ({ id, utc, what: ['tube'] })
    const r = reportFor(
      bookOf(
        station({
          changes: [
            change('a', '2026-03-01T00:00:00Z'),
            change('b', '2026-03-20T00:00:00Z'),
            change('c', '2027-01-01T00:00:00Z'),
          ],
        }),
      ),
    )
    expect(r.changes.map(c => c.utc)).toEqual(['2026-03-20T00:00:00Z', '2026-03-01T00:00:00Z'])
    expect(r.solution.setupFromUtc).toBe('2026-03-20T00:00:00Z')
  })
})

describe('whether the numbers were carried over', () => {
  const [feed] = stationWith(24, 2).feeds
  const act = (id: string, utc: string, more: object = {}) => ({ id, utc, what: 'carried', feed: feed!.id, ...more })
  const carriedIn = (more: object) => reportFor(bookOf(station(more as Partial<StationRecord>))).carried

  it('is told by the last note of it up to now, for this feed, and whether the mount was altered since', () => {
    expect(carriedIn({})).toBe(null)
    const alignment = [
      act('a', '2026-05-01T00:00:00Z', { note: 'by hand' }),
      act('b', '2026-04-01T00:00:00Z'),
      act('c', '2027-05-01T00:00:00Z'),
      act('d', '2026-05-20T00:00:00Z', { feed: 'another' }),
      { ...act('e', '2026-05-21T00:00:00Z'), what: 'set', step: 'heading' },
    ]
    expect(carriedIn({ alignment })).toEqual({ utc: '2026-05-01T00:00:00Z', note: 'by hand', isAltered: false })
    const changes = [{ id: 'x', utc: '2026-05-10T00:00:00Z', what: ['tube'] }]
    expect(carriedIn({ alignment, changes })?.isAltered).toBe(true)
    const text = textOf(reportFor(bookOf(station({ alignment, changes } as Partial<StationRecord>))))
    expect(text).toContain(
      'numbers put into the tracking program on 2026-05-01T00:00:00Z, before the last change of the mount, "by hand"',
    )
  })
})

describe('its text', () => {
  const r = reportFor(bookOf(station()))
  const text = textOf(r)

  it('says an open number as a range, and no other with one', () => {
    for (const p of someOf(r.solution.parameters)) {
      const k = p.unit === 'ratio' ? 100 : 1
      const lines = text.split('\n').filter(line => /\((known well enough|as measured|not known yet)\)$/.test(line))
      const at = lines[r.solution.parameters.indexOf(p)]!
      const open = p.state === 'open'
      expect(at.includes(': between '), at).toBe(open)
      expect(at.includes('+-'), at).toBe(!open)
      expect(at.endsWith('(not known yet)'), at).toBe(open)
      if (open) continue
      // The value read back from its line, with its σ.
      const [value, sigma] = [...at.matchAll(/(\d+(?:\.\d+)?) (?:deg|mm|%)/g)].map(m => Number(m[1]))
      expect(Math.abs(value! - Math.abs(k * p.value))).toBeLessThan(0.06 * k * p.sigma + 1e-6)
      expect(Math.abs(sigma! - k * p.sigma)).toBeLessThan(0.06 * k * p.sigma + 1e-6)
    }
    expect(r.solution.parameters.some(p => p.state === 'open')).toBe(true)
    expect(r.solution.parameters.some(p => p.state === 'settled')).toBe(true)
  })

  it('has its parts in order, plain letters, lines ending in LF', () => {
    const heads = ['MOONPLUMB FIELD REPORT', 'WHAT REMAINS', 'STILL SUSPECTED', 'MEASURED', 'THE MOUNT AS BUILT']
    const at = [...heads, 'CHANGES', 'CAUTION'].map(head => text.indexOf(head))
    expect(at).toEqual([...at].sort((a, b) => a - b))
    expect(at[0]).toBe(0)
    expect(text).toMatch(/^[\x20-\x7e\n]*\n$/)
    expect(text).toContain('Made:     2026-05-25T12:00:00Z by Moonplumb 9.9.9')
    expect(text).not.toMatch(/NaN|undefined|null|Infinity/)
  })

  it('keeps names from a file on their own lines', () => {
    const name = 'Rim\nCAUTION\n  none\u202e\u0007'
    const bad = textOf(
      reportFor(bookOf(station({ name, changes: [{ id: 'c', utc: NOW, what: ['all'], note: name }] }))),
    )
    expect(bad).toContain(String.raw`Station:  "Rim\u000aCAUTION\u000a  none\u202e\u0007"`)
    expect(bad.match(/^CAUTION$/gm)).toHaveLength(1)
  })

  it('with nothing recorded says that nothing is known', () => {
    const bare = reportFor(bookOf({ ...stationWith(0, 0) }))
    const said = textOf(bare)
    expect(bare.solution.sky.within).toBe(false)
    expect(said).toMatch(/^ {2}Not within tolerance: no sighting counts yet[;.]/m)
    // Wider than all round says nothing.
    expect(said).toContain('Mount turned, seen from above: anything (not known yet)')
    expect(said).toContain('MEASURED\n  nothing yet')
    expect(said).not.toContain('known well enough')
    expect(said).not.toContain('nine chances')
  })

  it('comes through the door with the program’s name', () => {
    const asked = reportText(bookOf(station()), { now: NOW, program: 'Moonplumb 9.9.9' })
    expect(asked).toEqual({ ok: true, value: text })
    expect(report(bookOf(station()), { now: NOW, station: 'nowhere' }).ok).toBe(false)
  })
})

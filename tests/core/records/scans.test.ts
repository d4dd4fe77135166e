import { describe, expect, it } from 'vitest'
import { checkFieldBook, readFieldBook } from '../../../src/core/records/intake.ts'
import { recordsFromBook } from '../../../src/core/records/revisions.ts'
import { type DriftScanRecord, knownScans, wholeDrift } from '../../../src/core/records/scans.ts'
import { bookFromRecords } from '../../../src/core/records/stored.ts'
import { answered } from '../../helpers/answered.ts'
import { type AnyBook, smallBook } from '../../helpers/smallbook.ts'

const drift = (): AnyBook => ({
  id: 'd1',
  utc: '2026-05-01T10:00:00Z',
  what: 'drift',
  target: { type: 'sun' },
  feed: 'a',
  scale: 'dB',
  how: 'pasted',
  lower: 300,
  upper: 210,
  arrivedFrom: { lower: '+' },
  samples: [
    { s: 0, level: 0.1 },
    { s: 10.5, level: 0.3 },
  ],
  gaps: [{ fromS: 3, toS: 5 }],
})
const cross = (): AnyBook => ({
  id: 'x1',
  utc: '2026-05-01T10:00:00Z',
  what: 'cross',
  target: { type: 'moon' },
  feed: 'b',
  scale: 'linear',
  samples: [{ s: 0, axis: 'lower', lower: 300, upper: 210, level: 4, from: '+' }],
})
const part = (): AnyBook => ({ id: 'p1', what: 'part', scan: 'd1', samples: [{ s: 5, level: 0.2 }], gaps: [] })
const bookWith = (change: (station: AnyBook) => void): AnyBook => {
  const book = smallBook()
  book.stations[0].scans.push(drift(), cross(), part())
  change(book.stations[0])
  return book
}

describe('scans in a field book', () => {
  it('are taken in, each a record of its own, and come out as they went in', () => {
    const book = bookWith(() => {})
    expect(checkFieldBook(book)).toEqual([])
    const read = answered(readFieldBook(JSON.stringify(book)))
    const drafts = recordsFromBook(read)
    expect(drafts.filter(d => d.kind === 'scan').length).toBe(4)
    const stored = drafts.map(d => ({ deleted: false, place: 0, writtenMs: 0, ...d, revision: 1, app: 'x' }))
    expect(bookFromRecords(stored, book.exportedUtc)).toEqual(book)
  })

  it('of other shapes are kept and left alone', () => {
    const book = bookWith(s => {
      s.scans.push({ id: 'old', samples: [1, 2, 3] }, { id: 'new', what: 'spiral', samples: 'so' }, 'a line of text')
    })
    expect(checkFieldBook(book)).toEqual([])
    expect(knownScans(book.stations[0].scans).map(r => r.id)).toEqual(['d1', 'x1', 'p1'])
  })

  it('that break a rule are refused by name with the path', () => {
    const cases: [string, (s: AnyBook) => void][] = [
      ['stations[0].scans[1].samples[1].level', s => (s.scans[1].samples[1].level = 'high')],
      ['stations[0].scans[1].lower', s => delete s.scans[1].lower],
      ['stations[0].scans[1].scale', s => (s.scans[1].scale = 'S-units')],
      ['stations[0].scans[1].feed', s => (s.scans[1].feed = 'z')],
      ['stations[0].scans[1].upper', s => (s.scans[1].upper = 99_999)],
      ['stations[0].scans[1].gaps[0]', s => (s.scans[1].gaps[0] = { fromS: 9, toS: 5 })],
      ['stations[0].scans[1].target.name', s => (s.scans[1].target = { type: 'source', name: 'Nowhere' })],
      ['stations[0].scans[2].samples[0].axis', s => (s.scans[2].samples[0].axis = 'tilt')],
      ['stations[0].scans[2].samples[0].upper', s => (s.scans[2].samples[0].upper = 99_999)],
      ['stations[0].scans[3].scan', s => delete s.scans[3].scan],
      ['stations[0].scans[1].samples[0].out', s => (s.scans[1].samples[0].out = 'yes')],
      ['stations[0].scans[1].marks[0].mark', s => (s.scans[1].marks = [{ s: 0, mark: 'up' }])],
      ['stations[0].scans[3].marks[0].s', s => (s.scans[3].marks = [{ mark: 'peak' }])],
      [
        'stations[0].scans[2].marks[0].upper',
        s => (s.scans[2].marks = [{ s: 0, axis: 'lower', lower: 1, upper: 99_999, pair: 1 }]),
      ],
      ['stations[0].scans[1].centre.sigmaDb', s => (s.scans[1].centre = { riseDb: 5, sigmaDb: 0 })],
      ['stations[0].scans[1].expect.widthS', s => (s.scans[1].expect = { peakUtc: '2026-05-01T10:05:00Z', widthS: 0 })],
      [
        'stations[0].scans[2].plan.from',
        s => (s.scans[2].plan = { points: 5, step: 0.5, from: 'up', axes: ['lower'] }),
      ],
      ['stations[0].scans[2].id', s => (s.scans[2].id = 'd1')],
    ]
    for (const [path, change] of cases) {
      const faults = checkFieldBook(bookWith(change))
      expect(
        faults.map(f => f.path),
        path,
      ).toContain(path)
    }
  })
})

describe('wholeDrift', () => {
  it('joins a scan and its parts in order of time', () => {
    const all = knownScans([drift(), part(), { ...part(), id: 'p2', scan: 'other' }])
    const whole = wholeDrift(all[0] as DriftScanRecord, all)
    expect(whole.samples.map(s => s.s)).toEqual([0, 5, 10.5])
    expect(whole.gaps).toEqual([{ fromS: 3, toS: 5 }])
  })
})

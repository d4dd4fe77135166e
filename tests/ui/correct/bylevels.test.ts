import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { solve } from '../../../src/core/questions.ts'
import type { FieldBook, LevelRecord, StationRecord } from '../../../src/core/records/fieldbook.ts'
import { byLevels } from '../../../src/ui/correct/bylevels.ts'
import { openSentence } from '../../../src/ui/correct/bylevelswords.ts'
import { foundRows } from '../../../src/ui/correct/found.ts'
import { answered } from '../../helpers/answered.ts'
import { plain } from '../../helpers/plain.ts'

const demo = JSON.parse(
  readFileSync(new URL('../../browser/fixtures/meadow.fieldbook.json', import.meta.url), 'utf8'),
) as FieldBook
const station = (levels: LevelRecord[]): StationRecord => ({
  ...demo.stations[0]!,
  sightings: [],
  changes: [],
  references: [],
  priors: [],
  levels,
})
const tell = (s: StationRecord) => {
  const answer = answered(solve({ ...demo, stations: [s] }, { now: '2026-11-25T12:00:00Z' }))
  return byLevels(answer, s, foundRows(answer, s, 'mm'))
}
const level = (id: string, rest: object): LevelRecord =>
  ({ id, utc: '2026-11-24T10:00:00Z', sigmaDeg: 0.15, ...rest }) as LevelRecord

describe('byLevels', () => {
  it('says nothing where there is no level, or none that the solution uses', () => {
    expect(tell(station([]))).toBeNull()
    expect(tell(station([level('m', { what: 'mast-lean', northDeg: 0.1, eastDeg: 0 })]))).toBeNull()
  })
  it('from one level of the tilt axis: its level is found, heading and both zeros stay open, two levels are missing', () => {
    const s = station([level('a', { what: 'lower-axis-elevation', valueDeg: 0.6 })])
    const told = tell(s)!
    expect(told.found.map(f => [f.key, plain(f.value)])).toEqual([['level ', 'high 0.60 ± 0.15°']])
    expect(told.missing).toEqual(['upper-axis-elevation', 'dish-elevation'])
    expect(openSentence(told, s.mount)).toBe(
      'Still open: the heading, the zero of tilt, the zero of swing, scales and jacks, how the dish sits on its axes and where the feed sits.',
    )
  })
  it('from all three: the zero of tilt is found too, that of swing is narrowed, and the heading never', () => {
    const s = station([
      level('a', { what: 'lower-axis-elevation', valueDeg: 0.6 }),
      level('b', { what: 'upper-axis-elevation', lower: 30, valueDeg: 60.7 }),
      level('c', { what: 'dish-elevation', lower: 30, upper: 300, valueDeg: 29 }),
    ])
    const told = tell(s)!
    const known = [...told.found, ...told.loose].map(f => f.key.trim())
    expect(known).toContain('lowerZero')
    expect(known).toContain('upperZero')
    expect(told.open.map(f => f.key.trim())).toEqual(['heading'])
    expect(told.missing).toEqual([])
  })
})

/** The form of a row against a setting of the feed, its picture, and its sentences. */
import { describe, expect, it } from 'vitest'
import { feedRow } from '../../../src/core/noise/feedrow.ts'
import { rowShapes } from '../../../src/ui/noise/row-geometry.ts'
import {
  emptyRow,
  type RowForm,
  rowFormOf,
  rowFromForm,
  rowReadings,
  withoutReading,
  withReading,
} from '../../../src/ui/noise/rowform.ts'
import { feedRowSays } from '../../../src/ui/noise/rowwords.ts'
import { plain } from '../../helpers/plain.ts'

const AT = Date.UTC(2026, 4, 1, 10)
const written = (readings: readonly [string, string][]): RowForm =>
  readings.reduce((form, [at, y], k) => withReading(form, k, { at, y }), emptyRow('a', AT))
const PEAK: [string, string][] = [
  ['−20', '6,9'],
  ['-10', '7.6'],
  ['0', '7.92'],
  ['10', '7.8'],
  ['20', '7.3'],
  ['30', '6.4'],
]

describe('the form of a row', () => {
  it('always has room for one more reading, and closes up where one is removed', () => {
    const form = written(PEAK)
    expect(form.readings).toHaveLength(7)
    expect(withoutReading(form, 0).readings.map(r => r.at)).toEqual(['-10', '0', '10', '20', '30', ''])
  })

  it('makes the record, and the same again from it', () => {
    const ready = rowFromForm({ ...written(PEAK), setting: 'choke-ring', sigma: '0.05' }, null, 'r')
    if (ready.kind !== 'ready') throw new Error(ready.why)
    expect(ready.record).toMatchObject({ of: 'sun-row', setting: 'choke-ring', sigmaDb: 0.05 })
    expect(ready.record.readings[0]).toEqual({ at: -20, yDb: 6.9 })
    expect(rowFromForm(rowFormOf(ready.record), ready.record, 'r')).toEqual(ready)
  })

  it('says what is missing', () => {
    expect(rowFromForm(emptyRow('a', AT), null, 'r')).toEqual({ kind: 'not-yet', why: 'none' })
    expect(rowFromForm(written([['10', '']]), null, 'r')).toEqual({ kind: 'not-yet', why: 'half' })
    expect(rowFromForm({ ...written(PEAK), sigma: '0' }, null, 'r')).toEqual({ kind: 'not-yet', why: 'sigma' })
  })
})

describe('what a row says', () => {
  const answerOf = (readings: [string, string][]) => {
    const ready = rowFromForm(written(readings), null, 'r')
    if (ready.kind !== 'ready') throw new Error(ready.why)
    return { readings: rowReadings(ready.record), answer: feedRow(rowReadings(ready.record)) }
  }

  it('is the best with its ±, or which way it lies, and never a place outside the row', () => {
    expect(plain(feedRowSays('axial', answerOf(PEAK).answer.verdict))).toMatch(
      /^Best at [2-4]\.\d+ ± 0\.\d+ mm: 19 times in 20 between [-−]?\d\.\d mm and \d\.\d mm\. The Sun is 7\.9 dB above cold sky there\.$/,
    )
    expect(feedRowSays('axial', answerOf(PEAK.slice(3)).answer.verdict)).toMatch(
      /^Not enough yet: at least 2\smore readings/,
    )
    expect(feedRowSays('rotation', { kind: 'outside', toward: 'more' })).toMatch(
      /^The best lies outside the row, at larger settings\..*this row does not show\.$/,
    )
  })

  it('is drawn: a disc a reading, the parabola from the first to the last, the best within its interval', () => {
    const { readings, answer } = answerOf(PEAK)
    const s = rowShapes(readings, answer, 'mm')
    expect(s.marks).toHaveLength(6)
    expect(s.best!.x1).toBeLessThan(s.best!.x)
    expect(s.best!.x2).toBeGreaterThan(s.best!.x)
    expect(s.marks.every(m => m.x > s.frame.x && m.x < s.frame.x + s.frame.width)).toBe(true)
    expect(s.marks.every(m => m.y >= s.frame.y && m.y <= s.frame.y + s.frame.height)).toBe(true)
    expect(s.curve).not.toMatch(/NaN/)
    expect(rowShapes(readings.slice(0, 2), feedRow(readings.slice(0, 2)), 'mm').curve).toBe('')
  })
})

import { describe, expect, it } from 'vitest'
import { stormChecksOf } from '../../../src/core/records/checks.ts'
import { checkFieldBook } from '../../../src/core/records/intake.ts'
import { bookOf, gravelPit } from '../../helpers/stations.ts'

const check = { id: 'c', utc: '2026-05-02T10:00:00Z', kind: 'storm', feed: 'a', peak: 'p', shadow: 's' }
const book = (checks: unknown[]) => bookOf(gravelPit({ checks: checks as never }))
const pathsOf = (checks: unknown[]) => checkFieldBook(book(checks)).map(f => f.path)

describe('checks after a storm', () => {
  it('are taken with what they need, and with unknown fields beside', () => {
    expect(pathsOf([check, { ...check, id: 'd', verdict: 'both', culprit: 'heading', mood: 1 }])).toEqual([])
  })
  it('are refused by name and path where a field is missing or not one of the words', () => {
    expect(pathsOf([{ ...check, peak: undefined }])).toEqual(['stations[0].checks[0].peak'])
    expect(pathsOf([{ ...check, verdict: 'blown away' }])).toEqual(['stations[0].checks[0].verdict'])
    expect(pathsOf([{ ...check, culprit: 'gremlins' }])).toEqual(['stations[0].checks[0].culprit'])
  })
  it('may name what was measured for it later; those of the first versions still read', () => {
    const more = { ...check, sightings: ['q', 'r'], levels: ['l'], references: ['m'], verdict: 'nothing-moved' }
    expect(pathsOf([more, { ...check, id: 'd', verdict: 'mount-or-counter' }])).toEqual([])
    expect(stormChecksOf([more])[0]!.sightings).toEqual(['q', 'r'])
    expect(pathsOf([{ ...more, sightings: [''] }])).toEqual(['stations[0].checks[0].sightings[0]'])
  })
  it('leave other kinds of checks alone', () => {
    expect(pathsOf([{ kind: 'of tomorrow', id: 'x' }, { id: 'y' }])).toEqual([])
    expect(stormChecksOf([check, { kind: 'of tomorrow', id: 'x' }, null, 3]).map(c => c.id)).toEqual(['c'])
  })
})

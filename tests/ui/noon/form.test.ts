import { describe, expect, it } from 'vitest'
import { emptyWish, inTenMinutes, isPast, presentWish, wishedFeed, wishedUtc } from '../../../src/ui/noon/form.ts'
import { gravelPit } from '../../helpers/stations.ts'

const station = gravelPit()
const NOW = Date.parse('2026-06-10T10:00:30Z')

describe('the time wished for', () => {
  it('is the transit, the whole minute ten minutes away, or what is typed; a time alone is today’s', () => {
    const wish = emptyWish('a')
    expect(wishedUtc(wish, NOW)).toBeUndefined()
    expect(inTenMinutes(NOW)).toBe('2026-06-10T10:11:00.000Z')
    expect(wishedUtc({ ...wish, when: 'soon', soonUtc: inTenMinutes(NOW) }, NOW)).toBe('2026-06-10T10:11:00.000Z')
    expect(wishedUtc({ ...wish, when: 'other', other: '14:20' }, NOW)).toBe('2026-06-10T14:20:00.000Z')
    expect(wishedUtc({ ...wish, when: 'other', other: '14:' }, NOW)).toBeNull()
  })
  it('falls back on the first feed where the one wished for was taken away', () => {
    expect(wishedFeed(station, { ...emptyWish('a'), feed: 'gone' })).toBe('a')
  })
})

describe('what is still meant', () => {
  it('an old "in ten minutes" is noon again', () => {
    const soon = { ...emptyWish('a'), when: 'soon' as const, soonUtc: inTenMinutes(NOW) }
    expect(presentWish(soon, NOW + 1_800_000).when).toBe('soon')
    expect(presentWish(soon, NOW + 7_200_000).when).toBe('noon')
    expect(presentWish({ ...soon, soonUtc: '' }, NOW).when).toBe('noon')
    const other = { ...soon, when: 'other' as const }
    expect(presentWish(other, NOW + 7_200_000)).toBe(other)
  })
  it('a pose of a minute ago is still now, one before it is past', () => {
    expect(isPast({ utc: '2026-06-10T09:59:45Z' }, NOW)).toBe(false)
    expect(isPast({ utc: '2026-06-10T09:59:00Z' }, NOW)).toBe(true)
  })
})

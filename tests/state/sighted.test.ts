import { describe, expect, it } from 'vitest'
import type { SightingRecord } from '../../src/core/records/fieldbook.ts'
import { isOnlyEntered, type Sighted, sightedAt } from '../../src/state/sighted.ts'
import { noneCounts } from '../../src/ui/kit/whynotwords.ts'
import { smallBook } from '../helpers/smallbook.ts'

const [moon, sun] = smallBook().stations[0].sightings as [SightingRecord, SightingRecord]

describe('sightedAt', () => {
  it('is known at once of an empty list and of one that is all left out, so that no screen changes under a finger', () => {
    expect(sightedAt({ sightings: [] })).toEqual({ kind: 'none' })
    const out = { ...moon, use: 'never' } as const
    expect(sightedAt({ sightings: [out, { ...sun, use: 'never' }] })).toEqual({ kind: 'left-out', count: 2 })
    expect(sightedAt({ sightings: [out, sun] })).toEqual({ kind: 'not-known' })
  })

  it('is as the solution has it otherwise; one of before the first sighting says nothing yet', () => {
    const by = (used: number, outliers: number) => sightedAt({ sightings: [moon, sun] }, { fit: { used, outliers } })
    expect(by(1, 1)).toEqual({ kind: 'some' })
    expect(by(0, 2)).toEqual({ kind: 'set-aside', count: 2 })
    expect(by(0, 0)).toEqual({ kind: 'computing' })
    expect(sightedAt({ sightings: [] }, { fit: { used: 1, outliers: 0 } })).toEqual({ kind: 'none' })
  })
})

describe('noneCounts', () => {
  const plain = (sighted: Sighted) => noneCounts(sighted).replaceAll('\u00a0', ' ')
  it('says why no sighting counts, and nothing where one may', () => {
    const words: [Sighted, string][] = [
      [{ kind: 'none' }, 'No sightings yet: the mount is known only as entered.'],
      [{ kind: 'left-out', count: 1 }, 'The one sighting is left out: the mount is known only as entered.'],
      [{ kind: 'left-out', count: 3 }, 'All 3 sightings are left out: the mount is known only as entered.'],
      [{ kind: 'set-aside', count: 1 }, 'The one sighting in use is set aside: its readings do not fit this mount.'],
      [{ kind: 'set-aside', count: 2 }, 'All 2 sightings in use are set aside: they do not agree.'],
      [{ kind: 'computing' }, 'Computing…'],
      [{ kind: 'some' }, ''],
      [{ kind: 'not-known' }, ''],
    ]
    for (const [sighted, said] of words) {
      expect(plain(sighted)).toBe(said)
      expect(isOnlyEntered(sighted)).toBe(said !== '')
    }
  })
})

import { describe, expect, it } from 'vitest'
import { faceReach, fieldsOfSpot, isExpected, tapped } from '../../../src/ui/kit/shadow/form.ts'
import { emptySightForm, type SightForm, shadowOf } from '../../../src/ui/kit/sighting/form.ts'
import { emptyWish, inTenMinutes, isPast, presentWish, wishedFeed, wishedUtc } from '../../../src/ui/noon/form.ts'
import { readStorm } from '../../../src/ui/storm/form.ts'
import { gravelPit } from '../../helpers/stations.ts'

const station = gravelPit({ dish: { diameterM: 3, focalRatio: 0.4, feedDiameterMm: 180 } })
const NOW = Date.parse('2026-06-10T10:00:30Z')
const form = (more: Partial<SightForm> = {}): SightForm => ({ ...emptySightForm('mm'), target: 'sun', ...more })

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

describe('what is still meant, and what can be expected', () => {
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
  it('where the shadow should fall is said to within a quarter of the dish', () => {
    expect(isExpected({ sigmaRightMm: 750, sigmaUpMm: 4 }, station.dish)).toBe(true)
    expect(isExpected({ sigmaRightMm: 4, sigmaUpMm: 751 }, station.dish)).toBe(false)
  })
})

describe('faceReach', () => {
  it('holds six degrees and the feed, never more than the dish', () => {
    expect(faceReach(station.dish, false)).toBeCloseTo(1200 * Math.tan(Math.PI / 30) + 90, 9)
    expect(faceReach(station.dish, true)).toBe(1500)
    expect(faceReach({ diameterM: 0.3, focalRatio: 2, feedDiameterMm: 200 }, false)).toBe(150)
  })
})

describe('a tap on the face', () => {
  it('writes what is seen from there; read again, it is the same place of the dish, in both units and from both sides', () => {
    for (const unit of ['mm', 'in'] as const)
      for (const view of ['behind', 'front'] as const)
        for (const spot of [
          { rightMm: -22, upMm: 11 },
          { rightMm: 31, upMm: -4 },
          { rightMm: 0, upMm: 0 },
        ]) {
          const read = shadowOf({ ...form(), unit, view, ...fieldsOfSpot(spot, view, unit) })!
          expect(read.rightMm).toBeCloseTo(spot.rightMm, unit === 'mm' ? 9 : 0)
          expect(read.upMm).toBeCloseTo(spot.upMm, unit === 'mm' ? 9 : 0)
        }
  })
  it('is mirrored in words alone: left from behind is right from in front', () => {
    const spot = { rightMm: -22, upMm: 11 }
    expect(fieldsOfSpot(spot, 'behind', 'mm')).toMatchObject({ shadowSide: 'left', shadowAcross: '22' })
    expect(fieldsOfSpot(spot, 'front', 'mm')).toMatchObject({ shadowSide: 'right', shadowHeight: 'above' })
  })
  it('takes the time each time anew, but never over a time typed by hand', () => {
    const first = tapped(form({ view: 'behind' }), { rightMm: 1, upMm: 2 }, NOW, null)
    expect(first.change.utc).toBe('2026-06-10 10:00:30')
    const second = tapped(form({ view: 'behind', ...first.change }), { rightMm: 3, upMm: 2 }, NOW + 60_000, first.taken)
    expect(second.change.utc).toBe('2026-06-10 10:01:30')
    const typed = tapped(
      form({ view: 'behind', utc: '2026-06-10 09:59:00' }),
      { rightMm: 3, upMm: 2 },
      NOW,
      first.taken,
    )
    expect(typed.change.utc).toBeUndefined()
    expect(typed.change.shadowAcross).toBe('3')
  })
  it('does nothing before it is said where one stands', () => {
    expect(tapped(form(), { rightMm: 1, upMm: 2 }, NOW, null).change).toEqual({})
  })
})

describe('readStorm', () => {
  const ids = { peak: 'p', shadow: 's' }
  const whole = form({ lower: '170.5', upper: '41', utc: '2026-06-10 10:00:30', sigma: '0.3', view: 'front' })
  const seen = { ...whole, ...fieldsOfSpot({ rightMm: -5, upMm: 9 }, 'front', 'mm') }
  it('makes two sightings of one pose and time: the peak with its σ, the shadow with the usual one', () => {
    const read = readStorm(seen, 'yes', station, ids)
    expect(read).toMatchObject({
      kind: 'whole',
      peak: { id: 'p', method: 'signal-peak', lower: 170.5, upper: 41, sigmaDeg: 0.3, target: { type: 'sun' } },
      shadow: { id: 's', method: 'shadow', lower: 170.5, upper: 41, shadow: { rightMm: -5, upMm: 9 } },
    })
    if (read.kind !== 'whole') return
    expect(read.peak.shadow).toBeUndefined()
    expect(read.shadow!.sigmaDeg).toBeUndefined()
    expect(read.shadow!.utc).toBe(read.peak.utc)
  })
  it('does without a shadow under cloud, but wants it said', () => {
    expect(readStorm(whole, 'no', station, ids)).toMatchObject({ kind: 'whole', shadow: null })
    expect(readStorm(whole, '', station, ids)).toEqual({ kind: 'not-yet', missing: 'shadow' })
    expect(readStorm({ ...whole, view: null }, 'yes', station, ids)).toMatchObject({ missing: ['view'] })
    expect(readStorm({ ...whole, lower: '' }, 'yes', station, ids)).toMatchObject({ missing: ['lower'] })
  })
})

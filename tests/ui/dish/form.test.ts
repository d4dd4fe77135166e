import { describe, expect, it } from 'vitest'
import type { StationRecord } from '../../../src/core/records/fieldbook.ts'
import { dishAnswer, withDishMeasures } from '../../../src/core/tape/measured.ts'
import {
  bowlForm,
  clockHours,
  rimForm,
  rimOf,
  stringsForm,
  stringsOf,
  withBowl,
  withRim,
} from '../../../src/ui/dish/form.ts'
import { agreeSays, feedCosts, feedSays, warpSays } from '../../../src/ui/dish/words.ts'
import { plain } from '../../helpers/plain.ts'
import { bareStation } from '../../helpers/smallbook.ts'

const UTC = '2026-05-01T10:00:00Z'
const station = (): StationRecord => ({ ...bareStation('st'), dish: { diameterM: 2.4, focalRatio: 0.4 } })
/** Plain text: no-break spaces as spaces. */
/** A feed 12 mm right and 9 mm toward the UP mark, 5 mm too far out, taped as the person in front sees the hours. */
const inFront = (hour: number): string => {
  const turn = (hour * Math.PI) / 6
  return Math.hypot(-1200 * Math.sin(turn) - 12, 1200 * Math.cos(turn) - 9, 965 - 375).toFixed(1)
}
const taped = (inch = false) => {
  const form = { ...rimForm(station(), 'a', inch), seenFrom: 'front' as const }
  for (const hour of clockHours('4'))
    form.distances[hour % 12] = inch ? (Number(inFront(hour)) / 25.4).toFixed(3) : inFront(hour)
  return form
}
const placeOf = (form: ReturnType<typeof taped>) => {
  const rim = rimOf(form, 'a', UTC)
  if (rim.kind !== 'ready') throw new Error(rim.why)
  const place = dishAnswer(station(), withRim(rim.value, station())).feeds[0]!.place
  if (place?.kind !== 'place') throw new Error('a place')
  return place
}

describe('rim to feed', () => {
  it('taped in front, comes out in words for either side: left in front is right from behind', () => {
    const place = placeOf(taped())
    expect(plain(feedSays(place, 'mm', 'front'))).toMatch(
      /^The feed sits 12\.\d ± 1\.\d mm left of the axis and 9\.\d ± 1\.\d mm from it toward the UP mark, seen from in front\. It is 5 ± \d mm too far out/,
    )
    expect(plain(feedSays(place, 'mm', 'behind'))).toMatch(/12\.\d ± 1\.\d mm right of the axis/)
    expect(feedCosts(place, 'mm', 'front')[0]).toMatch(/to the right/)
    expect(feedCosts(place, 'mm', 'behind')[0]).toMatch(/to the left.*away from the UP mark/)
    expect(agreeSays(place, 'mm')).toMatchObject({ good: true })
  })

  it('typed in inches is the same place, shown in inches', () => {
    const place = placeOf(taped(true))
    expect(place.rightMm).toBeCloseTo(12, 1)
    expect(plain(feedSays(place, 'in', 'behind'))).toMatch(/^The feed sits 0\.4\d* ± 0\.0\d* in right/)
  })

  it('waits for the side, for three distances, for a mouth that is said to be taped to', () => {
    expect(rimOf(rimForm(station(), 'a', false), 'a', UTC)).toEqual({ kind: 'not-yet', why: 'distances' })
    expect(rimOf({ ...taped(), seenFrom: '' }, 'a', UTC)).toEqual({ kind: 'not-yet', why: 'side' })
    expect(rimOf({ ...taped(), to: 'edge', mouth: '' }, 'a', UTC)).toEqual({ kind: 'not-yet', why: 'mouth' })
    const two = taped()
    two.distances[0] = two.distances[3] = ''
    expect(rimOf(two, 'a', UTC)).toEqual({ kind: 'not-yet', why: 'distances' })
    const wrong = taped()
    wrong.distances[3] = '12x'
    expect(rimOf(wrong, 'a', UTC)).toEqual({ kind: 'not-yet', why: 'distances' })
  })

  it('opens again with what was applied', () => {
    const rim = rimOf({ ...taped(), to: 'edge', mouth: '180', phase: '−4', sigma: '3' }, 'a', UTC)
    if (rim.kind !== 'ready') throw new Error(rim.why)
    const applied = withDishMeasures(station(), withRim(rim.value, station()))
    const again = rimForm(applied, 'a', false)
    expect(again).toMatchObject({ seenFrom: 'front', places: '4', to: 'edge', mouth: '180', phase: '−4', sigma: '3' })
    expect(rimOf(again, 'a', UTC)).toEqual(rim)
  })
})

describe('diameter and depth', () => {
  it('come from the station at first, and make no dish where the ratio is none', () => {
    const form = bowlForm(station(), false)
    expect(form).toMatchObject({ diameter: '2400', depth: '' })
    expect(withBowl(form, station(), UTC)).toEqual({ kind: 'not-yet', why: 'depth' })
    expect(withBowl({ ...form, depth: '3000' }, station(), UTC)).toEqual({ kind: 'not-yet', why: 'shape' })
    const made = withBowl({ ...form, depth: '375' }, station(), UTC)
    expect(made).toEqual({ kind: 'ready', value: { utc: UTC, diameterMm: 2400, depthMm: 375 } })
  })
  it('typed in inches are kept in millimetres: 94.5 and 14.75 in', () => {
    const made = withBowl({ inch: true, diameter: '94.5', depth: '14,75', sigma: '' }, station(), UTC)
    expect(made).toMatchObject({ value: { diameterMm: 2400.3, depthMm: 374.65 } })
  })
})

describe('crossed strings', () => {
  it('say where the rim stands out as the person sees it', () => {
    const strings = stringsOf(
      { ...stringsForm(false), seenFrom: 'front', pair: 'diagonal', first: '5', second: '0' },
      UTC,
    )
    if (strings.kind !== 'ready') throw new Error(strings.why)
    const answer = dishAnswer(station(), { utc: UTC, strings: [strings.value] })
    expect(plain(warpSays(answer, 'mm', 'front'))).toMatch(
      /out by 2\.5 mm at (half past 1 and half past 7|half past 7 and half past 1) o’clock/,
    )
    expect(plain(warpSays(answer, 'mm', 'behind'))).toMatch(/half past 4 and half past 10/)
    expect(stringsOf({ ...stringsForm(false), seenFrom: 'front', first: '5' }, UTC)).toEqual({
      kind: 'not-yet',
      why: 'second',
    })
  })
})

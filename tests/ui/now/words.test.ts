import { describe, expect, it } from 'vitest'
import { ANSWER } from '../../../src/ui/now/answerwords.ts'
import { NOW, untilWords } from '../../../src/ui/now/words.ts'
import { plain } from '../../helpers/plain.ts'

describe('untilWords', () => {
  it('says what comes and in how long; what is due, or just over, is now', () => {
    expect(plain(untilWords('rises', 9_120_000))).toBe('rises in 2 h 32 min')
    expect(plain(untilWords('comes-within-reach', 90_000))).toBe('in reach in 1 min 30 s')
    expect(plain(untilWords('sets', 0))).toBe('sets now')
    expect(plain(untilWords('leaves-reach', -4000))).toBe('in reach until now')
  })
})

it('the hours of a month are whole ones', () => {
  expect(plain(NOW.hours(271.6))).toBe('272 h in 28 days')
})

it('what a solution is from names what was set aside only where something was', () => {
  expect(ANSWER.from('12 sightings', 0)).toBe('From 12 sightings.')
  expect(ANSWER.from('12 sightings', 2)).toBe('From 12 sightings, 2 set aside.')
})

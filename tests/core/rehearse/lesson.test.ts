/** The walk-through goes forward with what is done, and never asks twice for the same. */
import { describe, expect, it } from 'vitest'
import { LESSONS, type LessonFacts, lessonOf } from '../../../src/core/rehearse/lesson.ts'

const of = (type: 'sun' | 'moon', method: 'signal-peak' | 'shadow' = 'signal-peak') => ({ target: { type }, method })
const facts = (more: Partial<LessonFacts>): LessonFacts => ({
  sightings: [],
  isOpen: true,
  sunOff: 2,
  isWithin: false,
  ...more,
})

describe('the walk-through', () => {
  it('goes from an empty book to the truth, each step once, in its order', () => {
    const [sun, shadow, moon] = [of('sun'), of('sun', 'shadow'), of('moon')]
    const way = [
      facts({ isOpen: false }),
      facts({ sunOff: 2 }),
      facts({ sunOff: 0.5 }),
      facts({ sunOff: 0.1 }),
      facts({ sightings: [sun] }),
      facts({ sightings: [sun, shadow] }),
      facts({ sightings: [sun, shadow, sun, sun] }),
      facts({ sightings: [sun, shadow, sun, sun, moon, moon] }),
      facts({ sightings: [sun, shadow, sun, sun, moon, moon, sun], isWithin: true }),
    ]
    expect(way.map(lessonOf)).toEqual([...LESSONS])
  })

  it('waits for the Sun where it is down, and does not take a shadow for a Sun that was heard', () => {
    expect(lessonOf(facts({ sunOff: null }))).toBe('find')
    const shadows = [of('sun', 'shadow'), of('sun', 'shadow'), of('sun', 'shadow')]
    expect(lessonOf(facts({ sightings: shadows }))).toBe('later')
  })

  it('is over as soon as the book says that the mount is within', () => {
    expect(lessonOf(facts({ sightings: [of('sun')], isWithin: true }))).toBe('done')
  })
})

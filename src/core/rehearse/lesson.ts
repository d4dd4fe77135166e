/**
 * The walk-through of a first rehearsal: which of its steps comes now. Nothing of it is stored: it follows from what is in the book
 * and from what the meter shows, so that it goes on from wherever the person is.
 */
import type { SightingRecord } from '../records/fieldbook.ts'

export const LESSONS = ['open', 'find', 'peak', 'write', 'shadow', 'later', 'moon', 'more', 'done'] as const
export type Lesson = (typeof LESSONS)[number]

export interface LessonFacts {
  sightings: readonly Pick<SightingRecord, 'method' | 'target'>[]
  /** The dish at hand lies over the screen. */
  isOpen: boolean
  /** How far the beam is from the Sun, in beamwidths; null where the Sun is down. What the meter shows, as a number. */
  sunOff: number | null
  /** The solution says that the mount is within what is allowed. */
  isWithin: boolean
}

/** Heard well above the noise, and as near to the peak as a meter tells. */
const HEARD = 0.8
const PEAKED = 0.15
/** As many Suns, and as many Moons, as the walk-through asks for by itself; then the book says what is worth doing next. */
const SUNS = 3
const MOONS = 2

export function lessonOf({ sightings, isOpen, sunOff, isWithin }: LessonFacts): Lesson {
  if (isWithin) return 'done'
  const count = (type: 'sun' | 'moon') => sightings.filter(s => s.target.type === type && s.method !== 'shadow').length
  if (sightings.length === 0) {
    if (!isOpen) return 'open'
    if (sunOff === null || sunOff > HEARD) return 'find'
    return sunOff > PEAKED ? 'peak' : 'write'
  }
  if (!sightings.some(s => s.method === 'shadow')) return 'shadow'
  if (count('sun') < SUNS) return 'later'
  return count('moon') < MOONS ? 'moon' : 'more'
}

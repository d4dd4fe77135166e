/**
 * The walk-through of a first rehearsal: which of its steps comes now. None of it is stored: it follows from the book and the meter,
 * so it continues from wherever the person is.
 */
import type { SightingRecord } from '../records/fieldbook.ts'

export const LESSONS = ['open', 'find', 'peak', 'write', 'shadow', 'later', 'moon', 'more', 'done'] as const
export type Lesson = (typeof LESSONS)[number]

export interface LessonFacts {
  sightings: readonly Pick<SightingRecord, 'method' | 'target'>[]
  /** The sheet of the dish at hand is open. */
  isOpen: boolean
  /** Angle from the beam to the Sun, in beamwidths, as the meter would show it; null where the Sun is down. */
  sunOff: number | null
  /** The solution says that the mount is within the tolerance. */
  isWithin: boolean
}

/** Beamwidths: heard well above the noise; as near to the peak as a meter can show. */
const HEARD = 0.8
const PEAKED = 0.15
/** How many Suns and Moons the walk-through asks for; after that the book says what is worth doing next. */
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

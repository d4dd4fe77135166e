import { expect, it } from 'vitest'
import { stopsOf } from '../../../../src/ui/kit/sighting/ReadingField.tsx'
import { smallBook } from '../../../helpers/smallbook.ts'

it('stops are said where they are known, and never where they are a guess', () => {
  const station = smallBook().stations[0]
  expect(stopsOf(station, 'upper')).toMatch(/\d.* to .*\d/)
  const guessed = { ...station, guesses: { 'mount.upper.maxReading': true as const } }
  expect(stopsOf(guessed, 'upper')).toBeNull()
  expect(stopsOf(guessed, 'lower')).not.toBeNull()
})

import { expect, it } from 'vitest'
import { stopsWords } from '../../../../src/ui/kit/sighting/ReadingField.tsx'
import { smallBook } from '../../../helpers/smallbook.ts'

it('stops are said where they are known, and never where they are a guess', () => {
  const station = smallBook().stations[0]
  expect(stopsWords(station, 'upper')).toMatch(/\d.* to .*\d/)
  const guessed = { ...station, guesses: { 'mount.upper.maxReading': true as const } }
  expect(stopsWords(guessed, 'upper')).toBeNull()
  expect(stopsWords(guessed, 'lower')).not.toBeNull()
})

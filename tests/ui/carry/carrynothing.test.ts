/** Whether there is anything to carry over, before the solution is there. */
import { readFileSync } from 'node:fs'
import { expect, it } from 'vitest'
import { hasNothingToTell } from '../../../src/ui/carry/CarryNothing.tsx'

const book = JSON.parse(readFileSync(new URL('../../browser/fixtures/meadow.fieldbook.json', import.meta.url), 'utf8'))

it('is known of an empty list at once, so that no screen changes under a finger', () => {
  expect(hasNothingToTell({ sightings: [] })).toBe(true)
  expect(hasNothingToTell(book.stations[0])).toBe(false)
})

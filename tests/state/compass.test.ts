import { describe, expect, it } from 'vitest'
import { checkFieldBook } from '../../src/core/records/intake.ts'
import { withRoughHeading } from '../../src/state/compass.ts'
import { smallBook } from '../helpers/smallbook.ts'

describe('withRoughHeading', () => {
  it('turns the mount and says 15°, in place of what was known of the heading, all else untouched', () => {
    const book = smallBook()
    const station = {
      ...book.stations[0],
      priors: [
        { id: 'heading', value: 3, sigma: 1 },
        { id: 'sag', value: 0, sigma: 0.2 },
      ],
    }
    const next = withRoughHeading(station, 184.27)
    expect(next.mount.headingDeg).toBe(184.3)
    expect(next.priors).toEqual([
      { id: 'sag', value: 0, sigma: 0.2 },
      { id: 'heading', value: 0, sigma: 15, measured: true },
    ])
    expect(checkFieldBook({ ...book, stations: [next] })).toEqual([])
    expect(withRoughHeading(station, 359.97).mount.headingDeg).toBe(0)
  })
})

/** What nobody measured is a guess, and the fit says no more than it then knows. */
import { describe, expect, it } from 'vitest'
import { solveStation } from '../../../src/core/fit/solution.ts'
import type { StationRecord } from '../../../src/core/records/fieldbook.ts'
import { stationFromRecord } from '../../../src/core/records/stationintake.ts'
import { guessTrial } from '../../helpers/guessed.ts'
import { drawn } from '../../helpers/share.ts'
import { smallBook } from '../../helpers/smallbook.ts'

const station = (change: (s: StationRecord) => void): StationRecord => {
  const s = smallBook().stations[0] as StationRecord
  change(s)
  return s
}
const priorOf = (record: StationRecord, id: string) =>
  solveStation(stationFromRecord(record)).parameters.list.find(p => p.id === id)!.prior

describe('priors of guesses', () => {
  it('are a quarter of the arm, 60° for the angle at the pivot, where a tape leaves 5 mm and 30°', () => {
    const taped = station(() => {})
    const guessed = station(s => {
      s.guesses = { 'mount.upper.readout.rodArmMm': true, 'mount.upper.readout.phiAtAngleZeroDeg': true }
    })
    expect(priorOf(taped, 'upperRodArm').sigma).toBe(5)
    expect(priorOf(guessed, 'upperRodArm').sigma).toBeCloseTo(0.25 * 410, 9)
    expect(priorOf(guessed, 'upperBaseArm').sigma).toBe(5)
    expect((priorOf(guessed, 'upperZero').sigma * 180) / Math.PI).toBeCloseTo(60, 9)
    expect((priorOf(taped, 'upperZero').sigma * 180) / Math.PI).toBeCloseTo(30, 9)
  })

  it('give way to what the person says of the same thing', () => {
    const said = station(s => {
      s.guesses = { 'mount.upper.readout.rodArmMm': true }
      s.priors = [...(s.priors ?? []), { id: 'upperRodArm', value: 3, sigma: 2, measured: true }]
    })
    expect(priorOf(said, 'upperRodArm')).toMatchObject({ value: 3, sigma: 2, measured: true })
  })
})

describe('a jack whose arms are guessed 15 % wrong and whose pivot angle some tens of degrees', () => {
  const trials = (marked: boolean) =>
    Array.from({ length: 34 }, (_, k) => guessTrial(k + 1, 12, marked)).filter(t => t !== null)

  it('is solved from twelve sightings, and holds what it says of the Moon in at least three of four stations', () => {
    const all = trials(true)
    expect(all.length).toBeGreaterThanOrEqual(8)
    // Nine in ten is what is said; 49 of 51 and 46 of 51 in the study.
    expect(all.filter(t => t.trueDeg <= t.statedDeg).length / all.length).toBeGreaterThan(0.75)
    expect(all.filter(t => Math.abs(t.pulls[0]) < 3).length / all.length).toBeGreaterThan(0.75)
    expect(all.every(t => t.used >= 11)).toBe(true)
  }, 60_000)

  drawn(
    'would claim what it does not know if the guess were taken for a tape',
    () => {
      const all = trials(false)
      expect(all.filter(t => t.trueDeg <= t.statedDeg).length / all.length).toBeLessThan(0.6)
      expect(all.every(t => Math.abs(t.pulls[0]) > 3)).toBe(true)
    },
    60_000,
  )
})

describe('a guessed focal length', () => {
  const shadows = (record: StationRecord) =>
    solveStation(stationFromRecord(record)).sightings.filter(s => s.record.method === 'shadow')

  it('widens a shadow along its own direction, by a fifth of it for one shadow, and a centred one not at all', () => {
    const one = (mm: number, guess: boolean) =>
      station(s => {
        const shadow = s.sightings.find(x => x.method === 'shadow')!
        s.sightings = [{ ...shadow, shadow: { rightMm: mm, upMm: 0 } }]
        delete s.sightings[0]!.cov
        if (guess) s.guesses = { 'dish.focalRatio': true }
      })
    const sigmaRight = (record: StationRecord) => 1 / shadows(record)[0]!.w11
    const [right] = shadows(one(100, false)).map(s => Math.abs(s.right))
    const grown = Math.sqrt(sigmaRight(one(100, true)) ** 2 - sigmaRight(one(100, false)) ** 2)
    expect(grown).toBeCloseTo(0.2 * right!, 9)
    expect(sigmaRight(one(0, true))).toBeCloseTo(sigmaRight(one(0, false)), 12)
    expect(1 / shadows(one(100, true))[0]!.w22).toBeCloseTo(1 / shadows(one(100, false))[0]!.w22, 9)
  })
})

/** Maidenhead locators against published ones (tests/authorities/sky/maidenhead.json, sources in the file). */
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type LocatorLength, locatorFromPlace, placeFromLocator } from '../../../src/core/records/locator.ts'
import { answered } from '../../helpers/answered.ts'
import { authority } from '../../helpers/authorities.ts'

const { entries } = authority('sky/maidenhead.json')
const [fromPlace, toCentre, roundTrip] = entries

const centreOf = (text: string) => answered(placeFromLocator(text))

describe('locatorFromPlace', () => {
  it('gives the eleven published locators, south and west among them, to the letter', () => {
    const ours = fromPlace.inputs.rows.map(([, lat, lon]: [string, number, number]) => locatorFromPlace(lat, lon))
    expect(ours).toEqual(fromPlace.expected.locator)
    expect(ours).toHaveLength(11)
  })

  it('puts the north pole and 180° E into the last cell and the south-west corner into the first', () => {
    expect(locatorFromPlace(90, 180, 8)).toBe('RR99xx99')
    expect(locatorFromPlace(-90, -180, 8)).toBe('AA00aa00')
  })

  it('names the cell that holds the place, from 20° to 30″ wide (400 places, seeded)', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -90, max: 90, noNaN: true }),
        fc.double({ min: -180, max: 180, noNaN: true }),
        fc.constantFrom<LocatorLength>(2, 4, 6, 8),
        (lat, lon, length) => {
          const cell = centreOf(locatorFromPlace(lat, lon, length))
          // A place on a border may lie on its other side by the billionth of a cell that borders are given.
          expect(Math.abs(cell.latDeg - lat)).toBeLessThanOrEqual(cell.halfLatDeg * (1 + 1e-8))
          expect(Math.abs(cell.lonDeg - lon)).toBeLessThanOrEqual(cell.halfLonDeg * (1 + 1e-8))
        },
      ),
      { numRuns: 400, seed: 20260501 },
    )
  })

  it('throws for what is not on Earth', () => {
    expect(() => locatorFromPlace(91, 0)).toThrow(RangeError)
    expect(() => locatorFromPlace(0, Number.NaN)).toThrow(RangeError)
  })
})

describe('placeFromLocator', () => {
  it('gives the nine published centres to 1e-6°, with two, four and six characters', () => {
    toCentre.inputs.locator.forEach((text: string, i: number) => {
      const { latDeg, lonDeg } = centreOf(text)
      const [lat, lon] = toCentre.expected.rows[i]
      expect(latDeg).toBeCloseTo(lat, 6)
      expect(lonDeg).toBeCloseTo(lon, 6)
    })
  })

  it('returns the published eight characters from their own centre', () => {
    const text = roundTrip.inputs.locator
    const { latDeg, lonDeg } = centreOf(text)
    expect(locatorFromPlace(latDeg, lonDeg, 8)).toBe(roundTrip.expected.locator)
  })

  it('reads capitals and small letters alike, with spaces round them', () => {
    expect(placeFromLocator(' jn58TD ')).toEqual(placeFromLocator('JN58td'))
  })

  it.each([
    ['', /no locator yet/],
    ['J', /2, 4, 6 or 8/],
    ['JN5', /2, 4, 6 or 8/],
    ['JN58td12ab', /2, 4, 6 or 8/],
    ['SN58', /first pair goes from A to R/],
    ['JNAA', /second pair goes from 0 to 9/],
    ['JN58yd', /third pair goes from A to X/],
    ['JN58tdxx', /fourth pair goes from 0 to 9/],
  ])('refuses "%s" in words', (text, words) => {
    const read = placeFromLocator(text)
    expect(read.ok).toBe(false)
    expect(!read.ok && read.faults[0]!.rule).toMatch(words)
  })
})

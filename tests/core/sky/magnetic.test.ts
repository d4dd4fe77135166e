/** Source: the official test values of WMM2025 (NOAA NCEI, BGS), tests/authorities/sky/wmm2025.json. */
import { describe, expect, it } from 'vitest'
import { decimalYear, declinationAt, trueHeading } from '../../../src/core/sky/magnetic.ts'
import { authority } from '../../helpers/authorities.ts'
import { someOf } from '../../helpers/some.ts'

const official = authority('sky/wmm2025.json') as Record<
  'report_table_12' | 'test_values_100',
  { rows: [number, number, number, number, number, number][] }
>

describe('declinationAt', () => {
  for (const table of ['report_table_12', 'test_values_100'] as const)
    it(`agrees with all ${official[table].rows.length} official values of ${table}, to the hundredth that they are printed with`, () => {
      for (const [year, heightKm, latDeg, lonDeg, declinationDeg, h] of someOf(official[table].rows)) {
        const got = declinationAt({ latDeg, lonDeg, heightM: 1000 * heightKm }, year)
        if (got.kind !== 'declination') throw new Error(`${year}: ${got.kind}`)
        const at = `${year} ${latDeg} ${lonDeg}`
        const off = ((got.deg - declinationDeg + 540) % 360) - 180
        // Half a hundredth by their rounding; 0.1 nT by the library's, more where the needle hardly pulls.
        expect(Math.abs(off), at).toBeLessThan(0.0051 + 20 / h)
        expect(Math.abs(got.horizontalNt - h), at).toBeLessThan(0.2)
      }
    })

  it('says nothing outside the model’s years', () => {
    const place = { latDeg: 47, lonDeg: 9, heightM: 600 }
    expect(declinationAt(place, 2024.99)).toEqual({ kind: 'outside-years', year: 2024.99 })
    expect(declinationAt(place, 2030.01).kind).toBe('outside-years')
    expect(declinationAt(place, Number.NaN).kind).toBe('outside-years')
  })

  it('warns of a needle near a magnetic pole', () => {
    const at = (latDeg: number, lonDeg: number) => {
      const got = declinationAt({ latDeg, lonDeg, heightM: 0 }, 2026)
      return got.kind === 'declination' ? got.needle : got.kind
    }
    expect(at(47, 9)).toBe('good')
    expect(at(86, 140)).toBe('useless')
    expect(at(75, 250)).toBe('doubtful')
  })

  it('counts the year by its own days', () => {
    expect(decimalYear(Date.UTC(2026, 0, 1))).toBe(2026)
    expect(decimalYear(Date.UTC(2028, 6, 2))).toBeCloseTo(2028.5, 9)
  })

  it('turns a magnetic heading into a true one across north', () => {
    expect(trueHeading(358, 4)).toBe(2)
    expect(trueHeading(1, -3)).toBe(358)
  })
})

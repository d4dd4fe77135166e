/**
 * The flux of radio sources at a frequency, and what it does to a dish: jansky, MHz, kelvin, dB.
 *
 * Spectra: log10 S = a0 + a1 x + a2 x² + …; up to some GHz Perley & Butler 2017 (ApJS 230, 7; x = log10 of GHz, table 5), above that
 * Baars et al. 1977 (A&A 61, 99; x = log10 of MHz, table 5). Cassiopeia A fades: 0.65 % a year (Reichart & Stephens 2000: 0.6 to 0.7).
 * Coefficients from public source code that cites the papers; the highest frequencies of Cassiopeia A and Virgo A from memory. Good to 12 %, half a dB.
 * Sagittarius A* is left out: the galactic centre about it is degrees wide and much stronger; what a small dish hears
 * there depends on its beam and on where it takes its cold sky.
 */
import type { Deg, MHz } from '../units.ts'

interface Spectrum {
  fromMHz: MHz
  toMHz: MHz
  /** Frequencies in GHz or in MHz. */
  per: 1 | 1000
  a: readonly number[]
  /** Of a source that fades. */
  year?: number
}
interface Loud {
  /** How wide it is; a disc of that width, for the beam. */
  discDeg: Deg
  fadesPerYear: number
  spectra: readonly Spectrum[]
}

const LOUD: Readonly<Record<string, Loud>> = {
  'Cassiopeia A': {
    discDeg: 0.08,
    fadesPerYear: 0.0065,
    spectra: [
      { fromMHz: 200, toMHz: 4000, per: 1000, a: [3.3584, -0.7518, -0.035, -0.071], year: 2016 },
      { fromMHz: 300, toMHz: 31_000, per: 1, a: [5.745, -0.77], year: 1980 },
    ],
  },
  'Cygnus A': {
    discDeg: 0.03,
    fadesPerYear: 0,
    spectra: [
      { fromMHz: 50, toMHz: 12_000, per: 1000, a: [3.3498, -1.0022, -0.225, 0.023, 0.043] },
      { fromMHz: 2000, toMHz: 31_000, per: 1, a: [7.161, -1.244] },
    ],
  },
  'Taurus A': {
    discDeg: 0.1,
    fadesPerYear: 0,
    spectra: [
      { fromMHz: 50, toMHz: 4000, per: 1000, a: [2.9516, -0.217, -0.047, -0.067] },
      { fromMHz: 1000, toMHz: 35_000, per: 1, a: [3.915, -0.299] },
    ],
  },
  'Virgo A': {
    discDeg: 0.05,
    fadesPerYear: 0,
    spectra: [
      { fromMHz: 50, toMHz: 3000, per: 1000, a: [2.4466, -0.8116, -0.048] },
      { fromMHz: 400, toMHz: 25_000, per: 1, a: [5.023, -0.856] },
    ],
  },
}

export type SourceFlux =
  | { kind: 'flux'; jansky: number; discDeg: Deg }
  /** No spectrum of this source reaches that frequency. */
  | { kind: 'outside-spectrum' }
  /** Too wide and too embedded for a figure. */
  | { kind: 'extended' }

/** @param year decimal; for one that fades */
export function sourceFlux(name: string, frequency: MHz, year: number): SourceFlux {
  const loud = LOUD[name]
  if (loud === undefined) return { kind: 'extended' }
  const spectrum = loud.spectra.find(s => frequency >= s.fromMHz && frequency <= s.toMHz)
  if (spectrum === undefined) return { kind: 'outside-spectrum' }
  const x = Math.log10(frequency / spectrum.per)
  const log = spectrum.a.reduceRight((sum, a) => a + x * sum, 0)
  const since = spectrum.year === undefined ? 0 : year - spectrum.year
  return { kind: 'flux', jansky: 10 ** log * (1 - loud.fadesPerYear) ** since, discDeg: loud.discDeg }
}

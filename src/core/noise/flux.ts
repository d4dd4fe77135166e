/**
 * The Sun's radio flux at one's own frequency, from two frequencies at which it is published daily. Solar flux units:
 * 1 sfu = 1e-22 W m⁻² Hz⁻¹. Between two frequencies that bracket one's own: a straight line in the logarithms.
 */
import type { MHz } from '../units.ts'

/** Published daily by the solar observing network (USAF, by way of NOAA; from memory). */
const STANDARD_MHZ = [245, 410, 610, 1415, 2695, 4995, 8800, 15400] as const

interface FluxAt {
  frequencyMHz: MHz
  sfu: number
}

export type Flux =
  | { kind: 'flux'; sfu: number }
  /** One frequency does not give the flux at another: the spectrum's slope differs from day to day. */
  | { kind: 'one-frequency'; frequencyMHz: MHz }
  /** Both above or both below: a line beyond its ends is a guess. */
  | { kind: 'not-between'; from: MHz; to: MHz }
  /** So far apart that the spectrum bends between them. */
  | { kind: 'too-far-apart'; from: MHz; to: MHz }

/** Neighbours in the list of published frequencies are at most 2.4 apart; over twice that the spectrum is not straight. */
const WIDEST_RATIO = 5
/** Within a hundredth of a published frequency its value is the flux. */
const SAME = 0.01

/** Flux at a frequency from published ones. @throws RangeError  a frequency or flux that is not above 0 */
export function fluxBetween(frequency: MHz, given: readonly FluxAt[]): Flux {
  for (const g of given)
    if (!(g.sfu > 0 && g.frequencyMHz > 0))
      throw new RangeError(`fluxBetween: flux and frequency must be > 0, got ${g.sfu} at ${g.frequencyMHz}`)
  const same = given.find(g => Math.abs(g.frequencyMHz / frequency - 1) <= SAME)
  if (same !== undefined) return { kind: 'flux', sfu: same.sfu }
  const sorted = [...given].sort((a, b) => a.frequencyMHz - b.frequencyMHz)
  const [low, high] = [sorted[0], sorted[sorted.length - 1]]
  if (low === undefined || high === undefined || low.frequencyMHz === high.frequencyMHz)
    return { kind: 'one-frequency', frequencyMHz: low?.frequencyMHz ?? 0 }
  const below = sorted.filter(g => g.frequencyMHz < frequency).pop()
  const above = sorted.find(g => g.frequencyMHz > frequency)
  if (below === undefined || above === undefined)
    return { kind: 'not-between', from: low.frequencyMHz, to: high.frequencyMHz }
  if (above.frequencyMHz / below.frequencyMHz > WIDEST_RATIO)
    return { kind: 'too-far-apart', from: below.frequencyMHz, to: above.frequencyMHz }
  const part = Math.log(frequency / below.frequencyMHz) / Math.log(above.frequencyMHz / below.frequencyMHz)
  return { kind: 'flux', sfu: below.sfu * (above.sfu / below.sfu) ** part }
}

/** The published frequencies next to one's own, or the one that it is; null beyond them all. */
export function standardAround(frequency: MHz): [MHz, MHz] | [MHz] | null {
  const same = STANDARD_MHZ.find(f => Math.abs(f / frequency - 1) <= SAME)
  if (same !== undefined) return [same]
  const above = STANDARD_MHZ.findIndex(f => f > frequency)
  return above <= 0 ? null : [STANDARD_MHZ[above - 1]!, STANDARD_MHZ[above]!]
}

/** The quiet Sun, ± 10 % (from memory); at solar maximum 1 to 5 GHz can be twice or three times that. */
const QUIET: readonly FluxAt[] = [
  { frequencyMHz: 245, sfu: 11 },
  { frequencyMHz: 410, sfu: 24 },
  { frequencyMHz: 610, sfu: 38 },
  { frequencyMHz: 1415, sfu: 52 },
  { frequencyMHz: 2695, sfu: 70 },
  { frequencyMHz: 4995, sfu: 115 },
  { frequencyMHz: 8800, sfu: 210 },
  { frequencyMHz: 15400, sfu: 510 },
]

/** The quiet Sun's flux; null beyond the published frequencies. */
export function quietFlux(frequency: MHz): number | null {
  const found = fluxBetween(frequency, QUIET)
  return found.kind === 'flux' ? found.sfu : null
}

/**
 * How near the scans' fit comes to the Cramér-Rao bound, and how honest its σ is: drift scans and cross scans, widths free
 * and known, even noise and noise in proportion to the power, at four signal-to-noise ratios, 1000 scans each.
 */
import { crossTrials, SCAN_KINDS, SNRS, scanTrials } from '../helpers/scans.ts'

const rounded = (o: Record<string, number>) =>
  Object.fromEntries(Object.entries(o).map(([k, v]) => [k, Number(v.toPrecision(4))]))

export default async () => {
  const out: Record<string, unknown> = {}
  for (const [name, wish] of Object.entries(SCAN_KINDS))
    for (const snr of SNRS) out[`${name}, S/N ${snr}`] = rounded(scanTrials(11, 1000, { ...wish, snr }))
  for (const points of [5, 7])
    for (const snr of SNRS)
      out[`both axes, ${points} readings each, S/N ${snr}`] = rounded(crossTrials(11, 1000, snr, points))
  return out
}

/**
 * The amateur bands on which the Moon is worked, by their weak-signal segments, MHz. At 13 cm the allocation
 * differs from country to country, so two stand for it. Common practice, no source.
 */
import type { MHz } from '../units.ts'

export const BANDS: readonly { name: string; frequencyMHz: MHz }[] = [
  { name: '70 cm', frequencyMHz: 432 },
  { name: '23 cm', frequencyMHz: 1296 },
  { name: '13 cm', frequencyMHz: 2304 },
  { name: '13 cm', frequencyMHz: 2320 },
  { name: '9 cm', frequencyMHz: 3400 },
  { name: '6 cm', frequencyMHz: 5760 },
  { name: '3 cm', frequencyMHz: 10_368 },
  { name: '1.2 cm', frequencyMHz: 24_048 },
  { name: '6 mm', frequencyMHz: 47_088 },
]

/** Within a twentieth of where a band is worked. */
const NEAR = 0.05

/** "23 cm" of 1296 or 1297 MHz; null where no band is near. */
export const bandName = (frequency: MHz): string | null =>
  BANDS.find(band => Math.abs(frequency / band.frequencyMHz - 1) < NEAR)?.name ?? null

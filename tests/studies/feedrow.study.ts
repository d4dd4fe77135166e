/**
 * Rows of Sun noise against a setting of the feed, drawn with the best from well below the row to well above it: how often a best is
 * said and its 68 % and 95 % intervals hold it, how often it is said of a row that does not hold it, and "outside" of one that does.
 */
import { rowRates } from '../helpers/feedrows.ts'

const ROWS = 20_000

export default async () =>
  Object.fromEntries(
    (['parabola', 'defocus'] as const).flatMap(shape =>
      [true, false].map(stated => [`${shape}, ${stated ? 'σ stated' : 'σ by scatter'}`, rowRates(ROWS, shape, stated)]),
    ),
  )

/**
 * What a test goes over: the whole by `npm run draws`, a share of it by `npm test`, which must be quick. What is left out of the
 * share is another mount, place or draw of the same; the test and its bounds are the same.
 */
import { it } from 'vitest'

export const isWhole = process.env.DRAWS === 'all'

/** So many of a list, evenly spread and always the first; the whole list by `npm run draws`. */
export const shareOf = <T>(list: readonly T[], most: number): T[] =>
  isWhole
    ? [...list]
    : list.filter(
        (_, k) => k === 0 || Math.floor((k * most) / list.length) > Math.floor(((k - 1) * most) / list.length),
      )

/** A test by `npm run draws` only: it draws many, or is of a size that others of its file do without. */
export function drawn(name: string, run: () => void | Promise<void>, timeoutMs?: number): void {
  if (isWhole) it(name, run, timeoutMs)
}

/**
 * Where two JSON values differ, leaf by leaf: what a person needs to choose between two versions of one record, or to see
 * what a revision altered. Paths as in the faults of the intake: `site.latDeg`, `what[0]`.
 */
import { isLoose } from './loose.ts'
import { recordPath } from './shown.ts'

export interface Difference {
  path: string
  /** undefined: not there. */
  before: unknown
  after: unknown
}

/** A key from a file may be called "constructor": what an object inherits is not in the record. */
const own = (of: Record<string, unknown>, key: string): unknown => (Object.hasOwn(of, key) ? of[key] : undefined)

/**
 * @param ignore  keys left out at the top, say 'revision'
 * @returns in the order of `before`, then what only `after` has; a list that holds no objects is one leaf
 */
export function differences(before: unknown, after: unknown, ignore: readonly string[] = []): Difference[] {
  const found: Difference[] = []
  const walk = (a: unknown, b: unknown, keys: (string | number)[]): void => {
    if (Object.is(a, b)) return
    if (isLoose(a) && isLoose(b)) {
      for (const key of new Set([...Object.keys(a), ...Object.keys(b)]))
        if (keys.length > 0 || !ignore.includes(key)) walk(own(a, key), own(b, key), [...keys, key])
      return
    }
    if (Array.isArray(a) && Array.isArray(b)) {
      if ([...a, ...b].some(item => typeof item === 'object' && item !== null)) {
        for (let i = 0; i < Math.max(a.length, b.length); i++) walk(a[i], b[i], [...keys, i])
        return
      }
      if (a.length === b.length && a.every((item, i) => Object.is(item, b[i]))) return
    }
    found.push({ path: recordPath('', keys), before: a, after: b })
  }
  walk(before, after, [])
  return found
}

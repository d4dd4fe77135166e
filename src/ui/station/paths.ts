/** A record's values by their path: "site.latDeg". */
import { isLoose, type Loose } from '../../core/records/loose.ts'

export const at = (record: unknown, path: string): unknown =>
  path.split('.').reduce<unknown>((o, key) => (isLoose(o) ? o[key] : undefined), record)

/** Undefined removes the key. */
export function put(record: Loose, path: string, value: unknown): void {
  const keys = path.split('.')
  const last = keys.pop()!
  let inner = record
  for (const key of keys) {
    if (!isLoose(inner[key])) {
      if (value === undefined) return
      inner[key] = {}
    }
    inner = inner[key] as Loose
  }
  if (value === undefined) delete inner[last]
  else inner[last] = value
}

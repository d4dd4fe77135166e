/**
 * The parts of a record that two phones may each alter without getting in each other's way, named by JSON pointers
 * (RFC 6901). Of most records: its fields. Of a station, one record with much in it: the fields of site, dish, mount, both
 * axes, what is allowed and what was guessed, and each feed, known thing and adjuster by its own id ("/feeds/a"). What belongs together
 * (a target, an offset, a readout) is one part.
 */
import { canonicalText, hashOfText } from './canonical.ts'
import { ENTRY_LISTS, RECORD_LISTS, type RecordKind, revisionNumber } from './kinds.ts'
import { isLoose } from './loose.ts'

export type Parts = Map<string, unknown>

/** Objects of a station that are taken apart. */
const APART: ReadonlySet<string> = new Set([
  '/site',
  '/dish',
  '/mount',
  '/mount/lower',
  '/mount/upper',
  '/tolerance',
  '/guesses',
])
const pointed = (key: string): string => `/${key.replace(/~/g, '~0').replace(/\//g, '~1')}`
/** The keys of a pointer. */
export const keysOf = (pointer: string): string[] =>
  pointer === ''
    ? []
    : pointer
        .slice(1)
        .split('/')
        .map(key => key.replace(/~1/g, '/').replace(/~0/g, '~'))

const isEntryList = (key: string): boolean => (ENTRY_LISTS as readonly string[]).includes(key)

/**
 * Not content: what tells where a record came from, and of a station the lists whose entries are records of their own. An
 * empty list of entries, or object that is taken apart, says the same as none.
 */
function isAside(kind: RecordKind, key: string, value: unknown): boolean {
  if (key === 'made' || (key === 'revision' && revisionNumber(value) !== null)) return true
  if (kind !== 'station') return false
  if (Object.hasOwn(RECORD_LISTS, key)) return true
  if (isEntryList(key)) return Array.isArray(value) && value.length === 0
  return APART.has(pointed(key)) && isLoose(value) && Object.keys(value).length === 0
}

/** Names of the entries of a list: the id (with the feed of a known thing), or the place; a second one of a name is "a#1". */
function namesIn(entries: readonly unknown[]): string[] {
  const times = new Map<string, number>()
  return entries.map((entry, index) => {
    const { id, feed } = isLoose(entry) ? (entry as { id?: unknown; feed?: unknown }) : {}
    const name = typeof id !== 'string' ? `#${index}` : typeof feed === 'string' ? `${id} ${feed}` : id
    const n = times.get(name) ?? 0
    times.set(name, n + 1)
    return n === 0 ? name : `${name}#${n}`
  })
}

/** The order in which a station's list names its entries; null where it has no such list. */
export function orderIn(body: unknown, list: string): string[] | null {
  const entries = isLoose(body) && Object.hasOwn(body, list) ? body[list] : null
  return Array.isArray(entries) ? namesIn(entries) : null
}

export function partsOf(kind: RecordKind, body: unknown): Parts {
  const parts: Parts = new Map()
  if (!isLoose(body)) return parts.set('', body)
  for (const [key, value] of Object.entries(body)) {
    if (value === undefined || isAside(kind, key, value)) continue
    const pointer = pointed(key)
    if (kind === 'station' && Array.isArray(value) && isEntryList(key)) {
      const names = namesIn(value)
      for (const [i, entry] of value.entries()) parts.set(pointer + pointed(names[i]!), entry)
    } else if (kind === 'station' && APART.has(pointer) && isLoose(value)) takeApart(value, pointer, parts)
    else parts.set(pointer, value)
  }
  return parts
}

function takeApart(object: Record<string, unknown>, at: string, parts: Parts): void {
  for (const [key, value] of Object.entries(object)) {
    if (value === undefined) continue
    const pointer = at + pointed(key)
    if (APART.has(pointer) && isLoose(value)) takeApart(value, pointer, parts)
    else parts.set(pointer, value)
  }
}

/**
 * Puts a body together from its parts. Keys stand as in `like`, new ones after them.
 *
 * @param orders  of the lists of a station; entries that an order does not name come last, by name
 */
export function bodyFromParts(
  kind: RecordKind,
  parts: Parts,
  like: unknown,
  orders: ReadonlyMap<string, readonly string[]>,
): unknown {
  if (parts.has('')) return parts.get('')
  type Tree = Map<string, unknown>
  const root: Tree = new Map()
  const into = (tree: Tree, keys: readonly string[], value: unknown): void => {
    const [key, ...rest] = keys as [string, ...string[]]
    if (rest.length === 0) {
      tree.set(key, value)
      return
    }
    const inner = tree.get(key)
    const next: Tree = inner instanceof Map ? inner : new Map()
    tree.set(key, next)
    into(next, rest, value)
  }
  // Aside keys and the order of the others are those of `like`.
  const aside = new Map<string, unknown>()
  if (isLoose(like)) {
    for (const [key, value] of Object.entries(like)) if (isAside(kind, key, value)) aside.set(key, value)
    for (const pointer of partsOf(kind, like).keys())
      if (parts.has(pointer)) into(root, keysOf(pointer), parts.get(pointer))
  }
  for (const [pointer, value] of parts) into(root, keysOf(pointer), value)

  const plain = (tree: Tree): Record<string, unknown> =>
    Object.fromEntries([...tree].map(([key, value]) => [key, value instanceof Map ? plain(value) : value]))
  const body: [string, unknown][] = []
  const put = (key: string): void => {
    const value = root.get(key)
    root.delete(key)
    if (!(value instanceof Map)) body.push([key, value])
    else if (isEntryList(key)) body.push([key, listed(value, orders.get(key) ?? [])])
    else body.push([key, plain(value)])
  }
  for (const key of isLoose(like) ? Object.keys(like) : []) {
    if (root.has(key)) put(key)
    else if (aside.has(key)) body.push([key, aside.get(key)])
  }
  for (const key of [...root.keys()]) put(key)
  return Object.fromEntries(body)
}

function listed(entries: ReadonlyMap<string, unknown>, order: readonly string[]): unknown[] {
  const first = order.filter(name => entries.has(name))
  const named = new Set(first)
  return [...first, ...[...entries.keys()].filter(name => !named.has(name)).sort()].map(name => entries.get(name))
}

/** The name of what a record says: equal for equal content, whatever the order of its keys and however it was numbered. */
export function contentHash(kind: RecordKind, body: unknown, deleted: boolean): string {
  if (deleted) return hashOfText('deleted')
  if (!isLoose(body)) return hashOfText(canonicalText(body))
  const content = Object.entries(body).filter(([key, value]) => value !== undefined && !isAside(kind, key, value))
  return hashOfText(canonicalText(Object.fromEntries(content)))
}

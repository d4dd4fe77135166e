/**
 * Mutants of a field book, seeded: its text bitten, cut and swapped, its fields dropped, retyped, stretched and doubled.
 * Half are hurt as text (few of those parse), half as a tree (all parse, some stay legal).
 */

type Holder = Record<string, unknown> | unknown[]

function slotsOf(root: unknown): [Holder, string | number][] {
  const slots: [Holder, string | number][] = []
  const visit = (value: unknown) => {
    if (typeof value !== 'object' || value === null) return
    const keys = Array.isArray(value) ? value.keys() : Object.keys(value)
    for (const key of keys) {
      slots.push([value as Holder, key])
      visit((value as Record<string | number, unknown>)[key])
    }
  }
  visit(root)
  return slots
}

const STRANGE: unknown[] = [
  null,
  true,
  false,
  0,
  -0.5,
  1,
  91,
  181,
  361,
  1e9,
  1e300,
  5e-324,
  '',
  'x',
  'moon',
  'a',
  '\ud800',
  '\u202e',
  'NaN',
  '__proto__',
  '2026-02-30T00:00:00Z',
  '2026-05-05T05:05:05Z',
  [],
  {},
  [[]],
  { type: 'sun' },
  { id: 'si-1' },
]

/** One mutant of a book, as text. */
export function mutant(book: unknown, random: () => number): string {
  const pick = (n: number): number => Math.floor(random() * n)
  const tree = JSON.parse(JSON.stringify(book))
  if (random() < 0.5) {
    let text = JSON.stringify(tree, null, pick(2) * 2)
    for (let n = 1 + pick(3); n > 0; n -= 1) {
      const at = pick(text.length)
      const kind = pick(6)
      if (kind === 0) text = text.slice(0, at)
      else if (kind === 1) text = text.slice(0, at) + text.slice(at + 1 + pick(5))
      else if (kind === 2) text = text.slice(0, at) + String.fromCharCode(pick(0x10000)) + text.slice(at + 1)
      else if (kind === 3) text = text.slice(0, at) + '{}[],:"\\0-e9'[pick(12)] + text.slice(at)
      else if (kind === 4) text = text.replace(/\d+/, () => ['1e999', '-', '00', '9'.repeat(400)][pick(4)]!)
      else text = text.slice(0, at) + text.slice(pick(at + 1), at) + text.slice(at)
      if (text === '') return text
    }
    return text
  }
  for (let n = 1 + pick(3); n > 0; n -= 1) {
    const slots = slotsOf(tree)
    if (slots.length === 0) break
    const [holder, key] = slots[pick(slots.length)]! as [Record<string | number, unknown>, string | number]
    const value = holder[key]
    const kind = pick(7)
    if (kind === 0) {
      if (Array.isArray(holder)) holder.splice(key as number, 1)
      else delete holder[key]
    } else if (kind === 1) holder[key] = STRANGE[pick(STRANGE.length)]
    else if (kind === 2 && typeof value === 'number') holder[key] = value * (random() * 4 - 2)
    else if (kind === 3 && typeof value === 'number') holder[key] = value + random() - 0.5
    else if (kind === 4 && Array.isArray(value) && value.length > 0) value.push(value[pick(value.length)])
    else if (kind === 5 && !Array.isArray(holder)) holder[`new ${pick(9)}`] = STRANGE[pick(STRANGE.length)]
    else if (typeof value === 'string') holder[key] = value + value
  }
  return JSON.stringify(tree)
}

/** Values that a field of that kind may well have, at its ends. */
const EXTREMES: Readonly<Record<string, readonly unknown[]>> = {
  number: [0, 1, -1, 1e-9, -90, 90, 180, -180, 360, 1e9, -1e9, 0.5, 3],
  string: ['', 'x', 'w'.repeat(500), '2000-01-01T00:00:00Z', '2099-12-31T23:59:60Z', '\u202e', 'é'],
  boolean: [true, false],
}

/**
 * A mutant that the intake takes: some fields at their ends, away, doubled or of another kind, each only as far as the book stays
 * legal.
 *
 * @param isLegal  of the whole book
 */
export function legalMutant<T>(book: T, random: () => number, isLegal: (book: T) => boolean): T {
  const pick = (n: number): number => Math.floor(random() * n)
  let tree = JSON.parse(JSON.stringify(book)) as T
  for (let left = 1 + pick(24); left > 0; left -= 1) {
    const next = JSON.parse(JSON.stringify(tree)) as T
    const slots = slotsOf(next)
    const [holder, key] = slots[pick(slots.length)]! as [Record<string | number, unknown>, string | number]
    const value = holder[key]
    const kind = pick(5)
    const ends = EXTREMES[typeof value]
    if (kind === 0 && Array.isArray(holder)) holder.splice(key as number, 1)
    else if (kind === 0) delete holder[key]
    else if (kind === 1 && Array.isArray(value)) value.length = 0
    else if (kind === 2 && Array.isArray(value) && value.length > 0) value.push(value[pick(value.length)])
    else if (kind === 3) holder[key] = STRANGE[pick(STRANGE.length)]
    else if (ends !== undefined) holder[key] = ends[pick(ends.length)]
    if (isLegal(next)) tree = next
  }
  return tree
}

/** The shapes that the program itself writes beside the file's first fields: known keys are held to them, unknown ones live on. */
import { describe, expect, it } from 'vitest'
import { checkFieldBook, readFieldBook } from '../../../src/core/records/intake.ts'
import { writeFieldBook } from '../../../src/core/records/outgo.ts'
import type { AnyBook } from '../../helpers/smallbook.ts'
import { writtenBook } from '../../helpers/writtenbook.ts'

/** Every place in a value, by its keys. */
function places(value: unknown, keys: (string | number)[] = []): (string | number)[][] {
  if (typeof value !== 'object' || value === null) return []
  const own = Array.isArray(value) ? [...value.keys()] : Object.keys(value)
  return own.flatMap(key => [
    [...keys, key],
    ...places((value as Record<string | number, unknown>)[key], [...keys, key]),
  ])
}
const at = (root: AnyBook, keys: readonly (string | number)[]): AnyBook => keys.reduce((x, key) => x[key], root)
const pathOf = (keys: readonly (string | number)[]): string =>
  keys.map(k => (typeof k === 'number' ? `[${k}]` : `.${k}`)).join('')

/** What the program writes, in the first station. */
const OURS: (string | number)[][] = [
  ['levels', 0, 'raw'],
  ['levels', 1, 'raw'],
  ['levels', 2, 'raw'],
  ['sightings', 0, 'stamp'],
  ['sightings', 0, 'halfId'],
  ['halfSightings', 0],
  ['references', 0, 'visit'],
  ['changes', 0, 'slipped'],
  ['dismissed'],
  ['demo'],
  ['adjusters', 0],
  ['alignment', 0],
  ['alignment', 2],
  ['mount', 'lower', 'calibration'],
  ['dish', 'measured'],
  ['scans', 1],
  ['scans', 2],
  ['scans', 3],
  ['scans', 4],
  ['scans', 5],
]

describe('what the program writes', () => {
  it('comes in, and goes out as it came', () => {
    const book = writtenBook()
    const read = readFieldBook(JSON.stringify(book))
    expect(read).toEqual({ ok: true, value: book })
    expect(JSON.parse(writeFieldBook(book))).toEqual(book)
  })

  it('is refused by its path where a known key has the wrong shape: a raw of { around: 5 }', () => {
    const book = writtenBook()
    book.stations[0].levels[2].raw = { around: 5 }
    expect(checkFieldBook(book)).toEqual([
      { path: 'stations[0].levels[2].raw.around', rule: 'around must be a list, got 5' },
    ])
  })

  // An object of no keys is wrong for every field, and right for a stamp, a raw or dialled readings of which nothing is known.
  const MAY_BE_EMPTY = new Set(['raw', 'stamp', 'dialled', 'arrivedFrom'])
  const all = OURS.flatMap(root => [root, ...places(at(writtenBook().stations[0], root), root)])
    // Without the word by which an entry is known for ours it is another program's.
    .filter(
      ([list, , own]) =>
        !(
          ['adjusters', 'scans', 'alignment'].includes(list as string) &&
          [undefined, 'by', 'what'].includes(own as string)
        ),
    )

  it('is refused in every one of its fields, by the path of that field', () => {
    expect(all.length).toBeGreaterThan(90)
    for (const keys of all) {
      const book = writtenBook()
      const last = keys.at(-1)!
      const holder = at(book.stations[0], keys.slice(0, -1))
      holder[last] = MAY_BE_EMPTY.has(String(last)) ? 5 : {}
      const faults = checkFieldBook(book)
      const own = `stations[0]${pathOf(keys)}`
      // A direction is one thing: none of its three numbers by itself.
      const wanted = keys.at(-2) === 'up' ? `stations[0]${pathOf(keys.slice(0, -1))}` : own
      expect(
        faults.some(f => f.path === wanted || f.path.startsWith(`${wanted}.`)) ? '' : JSON.stringify([own, faults]),
      ).toBe('')
      expect(faults.every(f => /^[^\n]+$/.test(f.rule))).toBe(true)
    }
  })

  it('may hold keys that nobody knows, in each of its objects', () => {
    const book = writtenBook()
    let objects = 0
    for (const keys of all) {
      const here = at(book.stations[0], keys)
      if (typeof here !== 'object' || here === null || Array.isArray(here)) continue
      here['of another program'] = { any: ['thing'] }
      objects += 1
    }
    expect(objects).toBeGreaterThan(15)
    expect(checkFieldBook(book)).toEqual([])
    expect(readFieldBook(JSON.stringify(book))).toEqual({ ok: true, value: book })
  })

  it('says what a direction is: three numbers of length 1', () => {
    for (const up of [
      [0, 0, 0],
      [0, 1],
      [0, 3, 4],
      ['0', 0, 1],
    ]) {
      const book = writtenBook()
      book.stations[0].levels[0].raw.taken[1].up = up
      expect(checkFieldBook(book)).toEqual([
        {
          path: 'stations[0].levels[0].raw.taken[1].up',
          rule: 'up must be [x, y, z], a direction of length 1, got a list',
        },
      ])
    }
  })

  it('leaves what another program keeps among adjusters alone', () => {
    const book = writtenBook()
    book.stations[0].adjusters = [5, { id: 'a', by: 'crane', armMm: 'long' }, { lever: 3 }]
    expect(checkFieldBook(book)).toEqual([])
  })

  it('refuses a stamp on a source that the sky does not have', () => {
    const book = writtenBook()
    book.stations[0].halfSightings[0].target = { type: 'source', name: 'Nowhere A' }
    expect(checkFieldBook(book).map(f => f.path)).toEqual(['stations[0].halfSightings[0].target.name'])
  })
})

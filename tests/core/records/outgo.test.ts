import { readdirSync, readFileSync } from 'node:fs'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { FieldBook } from '../../../src/core/records/fieldbook.ts'
import { readFieldBook } from '../../../src/core/records/intake.ts'
import { writeFieldBook } from '../../../src/core/records/outgo.ts'
import { bookForFile, recordsFromBook } from '../../../src/core/records/revisions.ts'
import { answered } from '../../helpers/answered.ts'
import { type AnyBook, smallBook } from '../../helpers/smallbook.ts'

const roundTrip = (book: FieldBook): FieldBook => {
  return answered(readFieldBook(writeFieldBook(book)))
}

/** Every object in a book, so that unknown fields can be added anywhere. */
function objectsIn(value: unknown, found: AnyBook[] = []): AnyBook[] {
  if (typeof value !== 'object' || value === null) return found
  if (!Array.isArray(value)) found.push(value)
  for (const item of Object.values(value)) objectsIn(item, found)
  return found
}

const anyText = fc.string({ unit: fc.nat(0xffff).map(c => String.fromCharCode(c)), minLength: 1, maxLength: 20 })
// JSON knows no -0: what a program writes as -0 comes back as 0.
const anyJson = fc.jsonValue({ maxDepth: 4 }).map(v => JSON.parse(JSON.stringify(v)))

describe('a field book goes out and comes in again', () => {
  it('keeps unknown fields wherever they hang, in their order, with any key and any JSON in them', () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(fc.nat(), anyText, anyJson), { maxLength: 8 }), extras => {
        const book = smallBook()
        for (const [n, key, value] of extras) {
          const objects = objectsIn(book)
          // A prefix keeps clear of the fields that have rules.
          Object.defineProperty(objects[n % objects.length], `x-${key}`, {
            value,
            enumerable: true,
            configurable: true,
          })
        }
        const back = roundTrip(book)
        expect(back).toEqual(book)
        expect(writeFieldBook(back)).toBe(writeFieldBook(book))
      }),
      { seed: 3, numRuns: 300 },
    )
  })

  it('keeps names of any characters, lone surrogates and right-to-left marks included', () => {
    fc.assert(
      fc.property(anyText, name => {
        const book = smallBook()
        book.stations[0].name = name
        const text = writeFieldBook(book)
        // What is written is valid UTF-8: encoding and decoding it loses nothing.
        expect(new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(new TextEncoder().encode(text))).toBe(
          text,
        )
        expect(roundTrip(book).stations[0]!.name).toBe(name)
      }),
      { seed: 4, numRuns: 300 },
    )
  })

  it('keeps keys called __proto__ and constructor', () => {
    const text = writeFieldBook(smallBook()).replace(
      '"format"',
      '"__proto__": {"a": 1},\n  "constructor": 2,\n  "format"',
    )
    const read = readFieldBook(text)
    expect(read.ok).toBe(true)
    if (read.ok) expect(JSON.parse(writeFieldBook(read.value))).toEqual(JSON.parse(text))
    if (read.ok) expect(writeFieldBook(read.value)).toContain('"__proto__": {')
  })

  it('indents by two and ends with one newline', () => {
    expect(writeFieldBook(smallBook())).toMatch(/^\{\n {2}"format": "moonplumb-fieldbook",\n[\s\S]*\n\}\n$/)
  })

  it('refuses to write a number that is not finite, instead of null', () => {
    const book = smallBook()
    book.stations[0].site.latDeg = Number.NaN
    expect(() => writeFieldBook(book)).toThrow(/must be finite, got NaN at latDeg/)
  })

  it.each(readdirSync('tests/examples').filter(f => f.endsWith('.fieldbook.json')))('keeps the example %s', file => {
    const book = JSON.parse(readFileSync(`tests/examples/${file}`, 'utf8'))
    expect(roundTrip(book)).toEqual(book)
  })
})

describe('a book near the largest size', () => {
  const many = (n: number) => {
    const book = smallBook() as unknown as FieldBook
    const station = book.stations[0]!
    const [sighting] = station.sightings
    const sightings = Array.from({ length: n }, (_, i) => ({ ...sighting!, id: `s${i}`, lower: 10, upper: 400 }))
    return { ...book, stations: [{ ...station, sightings }] } as FieldBook
  }

  it('goes out within the size that it came in with, numbers and all, and comes in as the same book', () => {
    // A hundredth of the real limit: what counts is how much longer the text becomes.
    const book = many(1_500)
    const came = JSON.stringify(book)
    const numbered: FieldBook = bookForFile(
      recordsFromBook(book).map(draft => ({
        ...draft,
        deleted: false,
        place: draft.place!,
        revision: 1,
        writtenMs: 0,
        app: '',
      })),
      book.exportedUtc,
    )
    expect(writeFieldBook(numbered).length).toBeGreaterThan(came.length)
    const out = writeFieldBook(numbered, came.length)
    expect(out.length).toBeLessThanOrEqual(came.length)
    expect(JSON.parse(out)).toEqual(JSON.parse(came))
  })

  it('leaves out indents only where they do not fit', () => {
    const book = many(20)
    const [indented, compact] = [JSON.stringify(book, null, 2).length + 1, JSON.stringify(book).length + 1]
    expect(writeFieldBook(book, indented)).toHaveLength(indented)
    expect(writeFieldBook(book, indented - 1)).toHaveLength(compact)
  })

  it('writes long zeros short, in numbers and never in strings', () => {
    const book = { ...many(1), note: '1000000 "0.00001" \\', far: [1e20, 1200000, 0.000012, 1000.5, 20, -5000, 1e-7] }
    const out = writeFieldBook(book as never, 10)
    expect(out).toContain('"far":[1e20,12e5,12e-6,1000.5,20,-5e3,1e-7]')
    expect(JSON.parse(out)).toEqual(book)
  })
})

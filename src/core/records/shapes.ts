/**
 * Shapes of single values in a field book: numbers with their range, instants, names. Each carries the words of its own
 * rule ("must be from -90 to 90"), so that a fault can say what would be right, also when the field is missing.
 *
 * valibot validates only. Its output is thrown away and the book stays what JSON.parse gave: unknown fields survive, and
 * a key called __proto__ is never copied anywhere.
 */
import * as v from 'valibot'
import { isInstant } from './instant.ts'

// Infinity (from 1e999) is told once, by the walk over the whole file, and not again by every range.
const number = (rule: string, isRight: (n: number) => boolean) =>
  v.pipe(
    v.number(rule),
    v.check(n => !Number.isFinite(n) || isRight(n), rule),
  )

/** A number from lo to hi, both included. */
export const within = (lo: number, hi: number) =>
  number(`must be a number from ${lo} to ${hi}`, n => n >= lo && n <= hi)

/** A number above 0. The upper bound keeps numbers that no workshop knows (1e300) from becoming infinite later on. */
export const positive = (hi: number) => number(`must be a number above 0, at most ${hi}`, n => n > 0 && n <= hi)

export const notNegative = (hi: number) => within(0, hi)

/** Any number that a field instrument could show. */
export const measure = () => number('must be a number (no larger than 1e9 either way)', n => Math.abs(n) <= 1e9)

/** σ of an angle. */
export const sigmaDeg = () => number('must be above 0 and at most 45 degrees', n => n > 0 && n <= 45)

export const nonZero = () => number('must be a number other than 0', n => Math.abs(n) >= 1e-9 && Math.abs(n) <= 1e9)

export const text = () => v.string('must be text in quotes')

export const flag = () => v.boolean('must be true or false')

/** Characters as a person counts them; a lone surrogate is one. */
function characters(s: string): number {
  let n = s.length
  for (let i = 1; i < s.length; i += 1) {
    if ((s.charCodeAt(i) & 0xfc00) === 0xdc00 && (s.charCodeAt(i - 1) & 0xfc00) === 0xd800) n -= 1
  }
  return n
}

const NAME_RULE = 'must be text of 1 to 500 characters'
export const name = () =>
  v.pipe(
    v.string(NAME_RULE),
    v.check(s => s.length > 0 && s.length <= 1000 && characters(s) <= 500, NAME_RULE),
  )

const UTC_RULE = 'must be a real instant in UTC such as 2026-05-01T12:00:00Z'
export const utc = () => v.pipe(v.string(UTC_RULE), v.check(isInstant, UTC_RULE))

export const oneOf = <const T extends readonly (string | number)[]>(values: T) =>
  v.picklist(values, `must be ${values.map(x => (typeof x === 'string' ? `"${x}"` : x)).join(' or ')}`)

export const list = <S extends v.GenericSchema>(item: S) => v.array(item, 'must be a list')

export const anyList = () => list(v.unknown())

const isObject = (x: unknown): boolean => typeof x === 'object' && x !== null && !Array.isArray(x)
const isObjectSchema = () => v.custom<Record<string, unknown>>(isObject, 'must be an object')

/** The words of a field's own rule, so that its absence can be told with them. */
const wordsOf = (schema: object | undefined): string =>
  schema !== undefined && 'message' in schema && typeof schema.message === 'string' ? schema.message : 'must be there'

/** The fields of an object. A missing one is told in the words of its own rule. */
export const fields = <E extends v.ObjectEntries>(entries: E) =>
  v.object(entries, issue => wordsOf(entries[String(issue.path?.at(-1)?.key)]))

/** An object. valibot takes an array for an object with missing keys; the first step says what is wrong. */
export const object = <E extends v.ObjectEntries>(entries: E) => v.pipe(isObjectSchema(), fields(entries))

/** An object whose shape depends on a key. `rule` lists the key's values in words. */
export const variant = <K extends string, O extends v.VariantOptions<K>>(key: K, options: O, rule: string) =>
  v.pipe(isObjectSchema(), v.variant(key, options, rule) as unknown as v.GenericSchema<Record<string, unknown>>)

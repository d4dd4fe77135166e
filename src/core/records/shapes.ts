/**
 * Shapes of single values in a field book: numbers with their range, instants, names. Each carries the words of its own
 * rule ("must be from -90 to 90"), so that a fault can say what would be right, also when the field is missing.
 *
 * valibot validates only. Its output is discarded and the book stays what JSON.parse gave: unknown fields survive, and
 * a key called __proto__ is never copied anywhere.
 */
import * as v from 'valibot'
import { isInstant } from './instant.ts'
import { isLoose, type Loose } from './loose.ts'
import { RANGES, type Range } from './ranges.ts'

// Infinity (from 1e999) is reported once, by the walk over the whole file, and not again by every range.
const number = (rule: string, isRight: (n: number) => boolean) =>
  v.pipe(
    v.number(rule),
    v.check(n => !Number.isFinite(n) || isRight(n), rule),
  )

/** A number of a range, both ends included. */
export const within = ([lo, hi]: Range) => number(`must be a number from ${lo} to ${hi}`, n => n >= lo && n <= hi)

/** A whole number of a range. */
export const whole = ([lo, hi]: Range) =>
  number(`must be a whole number from ${lo} to ${hi}`, n => Number.isInteger(n) && n >= lo && n <= hi)

/** A number above 0. The upper bound keeps numbers that no workshop knows (1e300) from becoming infinite later on. */
export const positive = ([, hi]: Range) => number(`must be a number above 0, at most ${hi}`, n => n > 0 && n <= hi)

const [LOWEST, HIGHEST] = RANGES.measure
/** Any number that a field instrument could show. */
export const measure = () =>
  number('must be a number (no larger than 1e9 either way)', n => n >= LOWEST && n <= HIGHEST)

/** σ of an angle. */
export const sigmaDeg = () =>
  number(
    `must be above 0 and at most ${RANGES.sigmaDeg[1]} degrees`,
    n => n > RANGES.sigmaDeg[0] && n <= RANGES.sigmaDeg[1],
  )

export const nonZero = () => number('must be a number other than 0', n => Math.abs(n) >= 1e-9 && Math.abs(n) <= HIGHEST)

/** Milliseconds of a clock: since 1970, to the year 9999, or since a page was opened. */
export const clockTime = (rule: string) => number(rule, n => Math.abs(n) <= 2.6e14)

export const text = () => v.string('must be text in quotes')

/** Text of one pattern. */
export const matching = (pattern: RegExp, rule: string) => v.pipe(v.string(rule), v.regex(pattern, rule))

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

const UTC_RULE = 'must be a real time in UTC such as 2026-05-01T12:00:00Z'
export const utc = () => v.pipe(v.string(UTC_RULE), v.check(isInstant, UTC_RULE))

export const oneOf = <const T extends readonly (string | number)[]>(values: T) =>
  v.picklist(values, `must be ${values.map(x => (typeof x === 'string' ? `"${x}"` : x)).join(' or ')}`)

export const opt = <S extends v.GenericSchema>(schema: S) => v.optional(schema)

export const list = <S extends v.GenericSchema>(item: S) => v.array(item, 'must be a list')

export const anyList = () => list(v.unknown())

/** Which way is up in the Phone frame: three numbers that make a direction. */
const UP_RULE = 'must be [x, y, z], a direction of length 1'
export const direction = () =>
  v.custom<[x: number, y: number, z: number]>(
    x =>
      Array.isArray(x) &&
      x.length === 3 &&
      x.every(n => typeof n === 'number') &&
      // Rounded tilts of two edges give up to a hundredth too much; infinite numbers are reported separately.
      !(Math.abs(Math.hypot(...x) - 1) > 0.05 && x.every(Number.isFinite)),
    UP_RULE,
  )

const isObjectSchema = () => v.custom<Loose>(isLoose, 'must be an object')

/** The words of a field's own rule, so that its absence can be reported with them. */
const wordsOf = (schema: object | undefined): string =>
  schema !== undefined && 'message' in schema && typeof schema.message === 'string' ? schema.message : 'must be there'

/** The fields of an object. A missing one is reported in the words of its own rule. */
export const fields = <E extends v.ObjectEntries>(entries: E) =>
  v.object(entries, issue => wordsOf(entries[String(issue.path?.at(-1)?.key)]))

/** An object. valibot takes an array for an object with missing keys; the first step says what is wrong. */
export const object = <E extends v.ObjectEntries>(entries: E) => v.pipe(isObjectSchema(), fields(entries))

/** An object with any keys, whose values have one shape. */
export const keyed = <S extends v.GenericSchema>(value: S) => v.pipe(isObjectSchema(), v.record(v.string(), value))

/** An object whose shape depends on a key. `rule` lists the key's values in words. */
export const variant = <K extends string, const O extends readonly Option<K>[]>(key: K, options: O, rule: string) =>
  v.pipe(
    isObjectSchema(),
    v.variant(key, options as unknown as v.VariantOptions<K>, rule) as unknown as v.GenericSchema<Loose>,
  ) as unknown as v.GenericSchema<unknown, v.InferOutput<O[number]>>
type Option<K extends string> = v.ObjectSchema<
  { [key in K]: v.GenericSchema } & v.ObjectEntries,
  v.ErrorMessage<v.ObjectIssue> | undefined
>

/** Entries of a list that other programs may use too: only those that the question recognises are held to the shape. */
export const known = <S extends v.GenericSchema>(isOurs: (x: unknown) => boolean, schema: S) => {
  const anything = v.unknown()
  return v.lazy((x): v.GenericSchema<unknown> => (isOurs(x) ? schema : anything))
}

/** True for an entry whose `key` has one of these values. */
export const hasOneOf =
  (key: string, values: readonly string[]) =>
  (x: unknown): boolean =>
    isLoose(x) && (values as readonly unknown[]).includes((x as Record<string, unknown>)[key])

import { describe, expect, it } from 'vitest'
import {
  charAt,
  digitFrom,
  lastDigit,
  nudged,
  nudgesOf,
  type PadKey,
  pressKey,
  type Typed,
} from '../../../src/ui/sight/keypad.ts'

/** "31.[2]": the marked part in brackets; "31.2[]": a caret. */
const typed = (marked: string): Typed => {
  const from = marked.indexOf('[')
  return { text: marked.replace(/[[\]]/g, ''), from, to: marked.indexOf(']') - 1 }
}
const shown = ({ text, from, to }: Typed) => `${text.slice(0, from)}[${text.slice(from, to)}]${text.slice(to)}`
const press = (marked: string, ...keys: PadKey[]) => shown(keys.reduce(pressKey, typed(marked)))

describe('a marked digit', () => {
  it('is typed over and the next one is marked, past the decimal point: two digits are two presses', () => {
    expect(press('5[9]2', '8', '9')).toBe('589[]')
    expect(press('3[1].4', '0', '2')).toBe('30.2[]')
    expect(press('[1]31.5', '2', '4')).toBe('24[1].5')
  })
  it('is pushed on by a decimal point, and erased by itself', () => {
    expect(press('31[2]', '.')).toBe('31.[2]')
    expect(press('5[9]2', 'erase')).toBe('5[]2')
  })
})

describe('keys', () => {
  it('take the place of all that is marked, and go in at a caret', () => {
    expect(press('[592]', '4', '1', '0')).toBe('410[]')
    expect(press('[]', '3', '1', '.', '2')).toBe('31.2[]')
    expect(press('31.[]', 'erase', 'erase')).toBe('3[]')
    expect(press('[]31', 'erase')).toBe('[]31')
    expect(press('31[]', 'space', '5')).toBe('31 5[]')
  })
  it('take no second decimal sign, a comma counted as one', () => {
    expect(press('31.2[]', '.')).toBe('31.2[]')
    expect(press('31,2[]', '.')).toBe('31,2[]')
    expect(press('3[1],2', '.')).toBe('3[1],2')
    expect(press('[31.2]', '.')).toBe('.[]')
  })
  it('turn the sign and keep the place', () => {
    expect(press('4[0]', 'sign')).toBe('−4[0]')
    expect(press('−4[0]', 'sign')).toBe('4[0]')
    expect(press('[]', 'sign')).toBe('−[]')
  })
})

it('a tap means the digit under it, and the place after the last one beyond', () => {
  expect([2, 15, 29, 31, 99].map(x => charAt([10, 20, 30], x))).toEqual([0, 1, 2, 3, 3])
  expect(shown(digitFrom('31.2', 2))).toBe('31.[2]')
  expect(shown(digitFrom('31.2', 4))).toBe('31.2[]')
  expect(shown(lastDigit('31.2°'))).toBe('31.[2]°')
  expect(shown(lastDigit(''))).toBe('[]')
})

describe('the steps', () => {
  it('are counts, tenths of a degree, or minutes', () => {
    expect(nudgesOf('counts', 'minutes').steps).toEqual([-10, -1, 1, 10])
    expect(nudgesOf('degrees', 'decimal').steps).toEqual([-1, -0.1, 0.1, 1])
    expect(nudgesOf('degrees', 'seconds')).toEqual({ steps: [-10, -1, 1, 10], unit: 'minutes' })
  })
  it('keep the digits that stood there, and add up without a remainder', () => {
    expect(nudged('592', -1, 'counts', 'decimal')).toBe('591')
    expect(nudged('592.5', -10, 'counts', 'decimal')).toBe('582.5')
    expect(nudged('31,4', 0.1, 'degrees', 'decimal')).toBe('31.5')
    expect(nudged('30.9', 0.1, 'degrees', 'decimal')).toBe('31.0')
    expect(nudged('0.05', -0.1, 'degrees', 'decimal')).toBe('−0.05')
    let text = '0.0'
    for (let k = 0; k < 100; k++) text = nudged(text, 0.1, 'degrees', 'decimal')!
    expect(text).toBe('10.0')
  })
  it('are minutes where angles are shown so', () => {
    expect(nudged('31 59', 1, 'minutes', 'minutes')).toBe('32')
    expect(nudged('31 24', -1, 'minutes', 'minutes')).toBe('31 23')
    expect(nudged('0 5', -10, 'minutes', 'minutes')).toBe('−0 5')
  })
  it('leave alone what is no reading', () => {
    expect(nudged('', 1, 'counts', 'decimal')).toBeNull()
    expect(nudged('31.', 1, 'counts', 'decimal')).toBe('32')
    expect(nudged('abc', 1, 'degrees', 'decimal')).toBeNull()
  })
})

import { describe, expect, it } from 'vitest'
import { quoted, recordPath, shown } from '../../../src/core/records/shown.ts'

describe('quoted', () => {
  it('keeps any script and escapes what turns text round, rings or is half a character', () => {
    expect(quoted('قمر 月 🌙 é')).toBe('"قمر 月 🌙 é"')
    expect(quoted('a\u202eb\u200fc\u2066d\u0007e\u009bf\ng\ud800h\udc00')).toBe(
      '"a\\u202eb\\u200fc\\u2066d\\u0007e\\u009bf\\u000ag\\ud800h\\udc00"',
    )
    expect(quoted('say "no"')).toBe(`"say 'no'"`)
  })
  it('cuts after 40 units and never through a pair', () => {
    expect(quoted('x'.repeat(41))).toBe(`"${'x'.repeat(40)}…"`)
    expect(quoted(`${'x'.repeat(39)}🌙🌙`)).toBe(`"${'x'.repeat(39)}…"`)
  })
})

describe('shown', () => {
  it.each([
    [null, 'null'],
    [true, 'true'],
    [-1.5, '-1.5'],
    [[], 'a list'],
    [{}, 'an object'],
    ['x', '"x"'],
  ])('%j as %s', (value, text) => expect(shown(value)).toBe(text))
})

describe('recordPath', () => {
  it('joins keys and places, and quotes odd keys', () => {
    expect(recordPath('', ['stations', 0, 'sightings', 3, 'utc'])).toBe('stations[0].sightings[3].utc')
    expect(recordPath('a', ['b c', '', '\u202e', 1])).toBe('a["b c"][""]["\\u202e"][1]')
  })
})

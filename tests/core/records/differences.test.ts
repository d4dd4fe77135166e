/** Where two records differ. */
import { describe, expect, it } from 'vitest'
import { differences } from '../../../src/core/records/differences.ts'

describe('differences', () => {
  it('names the one leaf that differs, with both sides', () => {
    const a = { name: 'Ridge', site: { latDeg: 47.1, lonDeg: 9.3 } }
    expect(differences(a, { ...a, site: { latDeg: 47.2, lonDeg: 9.3 } })).toEqual([
      { path: 'site.latDeg', before: 47.1, after: 47.2 },
    ])
  })
  it('does not care about the order of keys, nor about a key that is undefined', () => {
    expect(differences({ a: 1, b: 2, c: undefined }, { b: 2, a: 1 })).toEqual([])
  })
  it('leaves out what it is told to, at the top only', () => {
    expect(differences({ revision: 1, x: { revision: 1 } }, { revision: 2, x: { revision: 2 } }, ['revision'])).toEqual(
      [{ path: 'x.revision', before: 1, after: 2 }],
    )
  })
  it('takes a list of words as one leaf, and a list of things entry by entry', () => {
    expect(differences({ what: ['dish'] }, { what: ['dish', 'tube'] })).toEqual([
      { path: 'what', before: ['dish'], after: ['dish', 'tube'] },
    ])
    expect(differences({ feeds: [{ id: 'a', f: 1 }] }, { feeds: [{ id: 'a', f: 2 }, { id: 'b' }] })).toEqual([
      { path: 'feeds[0].f', before: 1, after: 2 },
      { path: 'feeds[1]', before: undefined, after: { id: 'b' } },
    ])
  })
  it('knows only what is in the record: a key may be called constructor, toString or __proto__', () => {
    const odd = JSON.parse('{"constructor": 1, "__proto__": {"a": 1}, "toString": "x", "hasOwnProperty": null}')
    expect(differences(odd, {}).map(d => [d.path, d.after])).toEqual([
      ['constructor', undefined],
      ['__proto__', undefined],
      ['toString', undefined],
      ['hasOwnProperty', undefined],
    ])
    expect(differences({}, odd).map(d => d.before)).toEqual([undefined, undefined, undefined, undefined])
    expect(differences(odd, structuredClone(odd))).toEqual([])
  })
  it('tells a thing from a list, from null and from nothing', () => {
    expect(differences({ x: {} }, { x: [] })).toHaveLength(1)
    expect(differences({ x: null }, { x: {} })).toHaveLength(1)
    expect(differences(undefined, { a: 1 })).toEqual([{ path: '', before: undefined, after: { a: 1 } }])
  })
})

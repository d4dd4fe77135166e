import { describe, expect, it } from 'vitest'
import { bodyFromParts, contentHash, keysOf, orderIn, partsOf } from '../../../src/core/records/parts.ts'
import { smallBook } from '../../helpers/smallbook.ts'

const station = () => {
  const { sightings: _s, levels: _l, ...rest } = smallBook().stations[0]
  return { ...rest, sightings: [], levels: [] }
}
const ordersOf = (body: unknown) =>
  new Map(['feeds', 'priors', 'adjusters'].map(list => [list, orderIn(body, list) ?? []]))

describe('partsOf', () => {
  it('takes a station apart by what two people could each alter, and leaves together what belongs together', () => {
    const parts = [...partsOf('station', station()).keys()]
    for (const part of [
      '/name',
      '/site/heightM',
      '/dish/focalRatio',
      '/mount/headingDeg',
      '/mount/upper/readout',
      '/mount/upper/maxReading',
      '/tolerance/floorDeg',
      '/feeds/a',
      '/priors/level',
      '/priors/feedUp b',
      '/horizonMask',
    ])
      expect(parts).toContain(part)
    expect(parts.some(part => /^\/(sightings|levels|adjusters|feeds$|site$)/.test(part))).toBe(false)
  })

  it('takes a sighting apart by its fields; its number and origin are none', () => {
    const parts = partsOf('sighting', {
      id: 's',
      target: { type: 'sun' },
      lower: 1,
      revision: 4,
      made: { from: '1.0' },
    })
    expect([...parts.keys()]).toEqual(['/id', '/target', '/lower'])
    // Somebody else's `revision` is a field like any other.
    expect(partsOf('instrument', { revision: 'B' }).get('/revision')).toBe('B')
  })
})

describe('bodyFromParts', () => {
  it('puts a station together as it was, its keys in their order', () => {
    const body = station()
    const back = bodyFromParts('station', partsOf('station', body), body, ordersOf(body))
    expect(JSON.stringify(back)).toBe(JSON.stringify(body))
  })

  it('keeps keys that are called __proto__, constructor, with a slash or a tilde', () => {
    const body = JSON.parse('{"__proto__": {"x": 1}, "constructor": 2, "a/b": 3, "~1": 4, "": 5}')
    const parts = partsOf('noise', body)
    expect([...parts.keys()]).toEqual(['/__proto__', '/constructor', '/a~1b', '/~01', '/'])
    expect([...parts.keys()].map(keysOf)).toEqual([['__proto__'], ['constructor'], ['a/b'], ['~1'], ['']])
    expect(JSON.stringify(bodyFromParts('noise', parts, null, new Map()))).toBe(JSON.stringify(body))
    expect(JSON.stringify(bodyFromParts('noise', parts, body, new Map()))).toBe(JSON.stringify(body))
  })

  it('puts entries that an order does not name last, by name', () => {
    const parts = partsOf('station', { feeds: [{ id: 'x' }, { id: 'c' }, { id: 'b' }] })
    const back = bodyFromParts('station', parts, null, new Map([['feeds', ['x']]]))
    expect(back).toEqual({ feeds: [{ id: 'x' }, { id: 'b' }, { id: 'c' }] })
  })

  it('takes a record that is no object for one part', () => {
    expect(bodyFromParts('scan', partsOf('scan', [1, 2]), null, new Map())).toEqual([1, 2])
  })
})

describe('contentHash', () => {
  it('asks neither for the order of keys, nor for numbers, nor for lists that are empty', () => {
    const body = station()
    const hash = contentHash('station', body, false)
    const { adjusters: _, ...without } = body
    expect(contentHash('station', Object.fromEntries(Object.entries(without).reverse()), false)).toBe(hash)
    expect(contentHash('station', { ...body, revision: 7, made: { from: '' } }, false)).toBe(hash)
    expect(contentHash('station', { ...body, name: 'other' }, false)).not.toBe(hash)
    expect(contentHash('station', body, true)).not.toBe(hash)
  })
})

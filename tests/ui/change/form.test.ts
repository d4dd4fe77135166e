/** Several names of what moved, handed over in one part of an address. */
import { describe, expect, it } from 'vitest'
import { changeOf } from '../../../src/core/export/advice.ts'
import { emptyChange } from '../../../src/ui/change/form.ts'
import { namesFromPart, partFromNames } from '../../../src/ui/kit/navigation.ts'

describe('names of what moved, in an address', () => {
  it('come back as they were, with commas, slashes and per cent signs in a feed’s own', () => {
    const names = ['lower-axis', 'feed:23 cm, new/old 50%', 'tube']
    expect(namesFromPart(decodeURIComponent(encodeURIComponent(partFromNames(names))))).toEqual(names)
    expect(namesFromPart(undefined)).toEqual([])
    expect(namesFromPart('%E0%A4%A')).toEqual([])
  })

  it('a polar axis turned about its foot is its hour angle’s zero as well: both are picked', () => {
    const what = changeOf({ part: 'polar-axis', toward: 'east' } as never, undefined)
    expect(what).toEqual(['lower-axis', 'lower-zero'])
    expect(emptyChange(namesFromPart(partFromNames(what)), undefined, 0).what).toEqual(what)
  })
})

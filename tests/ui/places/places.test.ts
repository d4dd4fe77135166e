import { describe, expect, it } from 'vitest'
import { isPlaceId, loadPlace, placeHeld } from '../../../src/ui/places/places.ts'

describe('a place of the address', () => {
  it('is one of ours, never a word that every object knows', () => {
    expect(['mount', 'sight', 'correct', 'book', 'reach', 'when', 'align'].filter(id => !isPlaceId(id))).toEqual([])
    expect(['now', '', 'toString', 'constructor', '__proto__'].filter(isPlaceId)).toEqual([])
  })

  it('is loading when first asked for, loaded once, and then there', async () => {
    expect(placeHeld('reach').kind).toBe('loading')
    expect(loadPlace('reach')).toBe(loadPlace('reach'))
    await loadPlace('reach')
    const held = placeHeld('reach')
    expect(held.kind === 'there' && held.View.name).toBe('ReachPlace')
  })
})

import { describe, expect, it } from 'vitest'
import type { Found } from '../../../src/ui/correct/found.ts'
import { turnedParts } from '../../../src/ui/correct/turned.ts'

const found = (part: string, key: string): Found =>
  ({
    key,
    group: 'turn',
    advice: { kind: 'move', part, toward: 'clockwise', unit: 'deg', size: 1, sigma: 0.1 },
  }) as never

describe('turnedParts', () => {
  it('names what the first advice is about, and nothing else: the base without the feed, the feed without the base', () => {
    const base = found('mount', 'heading')
    const feed = found('feed', 'feedRight a')
    expect(turnedParts([base, feed])).toEqual(['lower-axis'])
    expect(turnedParts([feed, base])).toEqual(['feed:a'])
  })
  it('names nothing where nothing is to be moved', () => {
    expect(turnedParts([])).toEqual([])
    expect(turnedParts([{ ...found('mount', 'heading'), advice: { kind: 'carry' } } as never])).toEqual([])
  })
})

import { describe, expect, it } from 'vitest'
import { PARAMETER_IDS } from '../../../src/core/mount/parameters.ts'
import { lowerAxisIds, onPaper, SLOT, SLOTS, slotOf } from '../../../src/core/mount/slots.ts'
import { KINDS } from './sample.ts'

describe('slotOf', () => {
  it('gives every kind 22 slots filled by one parameter and no other, and two for counters that slipped', () => {
    for (const kind of KINDS) {
      const slots = PARAMETER_IDS.map(id => slotOf(id, kind)).filter(s => s !== null)
      expect(new Set(slots).size).toBe(slots.length)
      expect([...slots].sort((a, b) => a - b)).toEqual(Array.from({ length: 22 }, (_, i) => i))
    }
    expect([SLOT.lowerShift, SLOT.upperShift]).toEqual([22, 23])
    expect(Object.values(SLOT)).toEqual(Array.from({ length: SLOTS }, (_, i) => i))
    expect(onPaper()).toHaveLength(SLOTS)
  })

  it('knows which lower axis a mount has: an el-over-az mount has no pole, a polar one no heading', () => {
    expect(slotOf('poleEast', 'el-over-az')).toBeNull()
    expect(slotOf('heading', 'ha-dec')).toBeNull()
    expect(slotOf('leanNorth', 'x-y')).toBeNull()
    expect(lowerAxisIds('ha-dec')).toEqual(['poleEast', 'poleUp'])
    expect(lowerAxisIds('el-over-az')).toEqual(['leanNorth', 'leanEast'])
    for (const kind of ['az-over-el', 'x-y'] as const) expect(lowerAxisIds(kind)).toEqual(['heading', 'level'])
  })
})

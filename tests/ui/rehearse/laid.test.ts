/** The rehearsal's inclinometer as it is typed into the app's own form of a reversal. */
import { describe, expect, it } from 'vitest'
import { still } from '../../../src/core/rehearse/drives.ts'
import { trueLevelAt } from '../../../src/core/rehearse/mount.ts'
import { worldOf } from '../../../src/core/rehearse/world.ts'
import { degFromRad } from '../../../src/core/units.ts'
import { emptyMeasure, reversalOf } from '../../../src/ui/level/form.ts'
import { laidTexts } from '../../../src/ui/rehearse/laid.ts'

const NOON = Date.UTC(2026, 4, 1, 11)

describe('an inclinometer of the rehearsal, laid on and turned about', () => {
  it.each(['dish-elevation', 'lower-axis-elevation', 'upper-axis-elevation'] as const)(
    'is a reversal to the form, on %s, and gives its level and its bias',
    place => {
      const world = worldOf({ seed: 6, difficulty: 'ordinary', kind: 'x-y', startUtc: '2026-05-01T10:00:00Z' })
      const hands = { lower: still(700), upper: still(500) }
      const { laid, turned } = laidTexts(world, hands, NOON, place)
      const said = reversalOf({ ...emptyMeasure(NOON), how: 'reversal', first: laid, second: turned })
      if (said?.kind !== 'reversed') throw new Error(`refused: ${said?.kind}`)
      const { lowerDeg, upperDeg } = world.angles(hands, NOON)
      expect(
        Math.abs(degFromRad(said.angle) - trueLevelAt(world.mountAt(NOON), place, lowerDeg, upperDeg)),
      ).toBeLessThan(0.2)
      expect(Math.abs(degFromRad(said.bias) - world.inclinometer.biasDeg)).toBeLessThan(0.2)
    },
  )
})

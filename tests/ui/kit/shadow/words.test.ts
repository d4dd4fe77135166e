import { describe, expect, it } from 'vitest'
import { fellSays, rollSays, shadowExpectedSays } from '../../../../src/ui/kit/shadow/words.ts'
import { plain } from '../../../helpers/plain.ts'

describe('the shadow on the dish', () => {
  const pose = {
    utc: '2026-06-10T11:30:00Z',
    azDeg: 180,
    elDeg: 65,
    lower: 60,
    upper: 0,
    inside: true,
    rollDeg: 23,
    shadow: { centre: { rightMm: 13, upMm: -8 }, outline: [], blurMm: 5.5, isWhole: true },
    sigmaRightMm: 5,
    sigmaUpMm: 3,
  }
  it('says the place as it is seen from there', () => {
    expect(plain(shadowExpectedSays(pose, 'behind', 'mm', true))).toBe(
      'The middle of the shadow should be 13 mm right of and 8 mm below the vertex, ± 5 mm, seen from behind.',
    )
    expect(plain(shadowExpectedSays(pose, 'front', 'mm', true))).toContain('13 mm left of')
    expect(plain(fellSays({ rightMm: -22, upMm: 0 }, 'front', 'mm'))).toBe(
      'Its middle fell 22 mm right of the vertex, seen from in front.',
    )
    expect(shadowExpectedSays(pose, 'behind', 'mm', false)).toContain('Too little is known')
    expect(shadowExpectedSays({ ...pose, shadow: null }, 'behind', 'mm', true)).toContain('does not shine')
  })
  it('turns the roll over with the side from which it is seen', () => {
    expect(rollSays(23, 'behind')).toContain('23° to the right of straight up')
    expect(rollSays(23, 'front')).toContain('23° to the left of straight up')
    expect(rollSays(-23, 'behind')).toContain('23° to the left')
    expect(rollSays(0.3, 'behind')).toContain('at the top')
    expect(rollSays(null, 'front')).toContain('straight up')
  })
})

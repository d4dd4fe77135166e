import { describe, expect, it } from 'vitest'
import type { ShadowsJson } from '../../../src/core/check/feedjson.ts'
import { missSays, paceSays, reachSays } from '../../../src/ui/noon/words.ts'
import { plain } from '../../helpers/plain.ts'

describe('the noon check', () => {
  it('says when the Sun is within reach, or that it never is', () => {
    expect(plain(reachSays([{ fromUtc: '2026-06-10T08:10:00Z', toUtc: '2026-06-10T15:40:00Z' }]))).toContain(
      'from 08:10 to 15:40 UTC',
    )
    expect(reachSays([])).toContain('does not come within reach')
  })
  const together: ShadowsJson = {
    readings: [],
    miss: { rightDeg: 0.31, upDeg: -0.12, sigmaDeg: 0.2 },
    sigmaEachDeg: 0.35,
    pace: { ratio: 0.97, sigma: 0.12, isRight: true },
    looksMirrored: false,
    sighting: {} as ShadowsJson['sighting'],
  }
  it('says the miss, and whether the shadow keeps the Sun’s pace', () => {
    expect(plain(missSays(together.miss, 0.2))).toBe(
      'Against the solution the Sun stands 0.3° right, 0.1° low, ± 0.20°.',
    )
    expect(paceSays(together)).toMatchObject({ good: true })
    expect(paceSays(together).text).toContain('0.97 ± 0.12')
    expect(paceSays({ ...together, pace: { ratio: 0.2, sigma: 0.1, isRight: false } })).toMatchObject({ good: false })
    expect(paceSays({ ...together, pace: null })).toMatchObject({ good: null })
    expect(paceSays({ ...together, looksMirrored: true }).text).toContain('other side')
  })
})

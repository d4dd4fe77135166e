import { describe, expect, it } from 'vitest'
import { bowlFromDepth } from '../../../src/core/dish/paraboloid.ts'
import {
  feedFromRim,
  type RimDistance,
  type RimPlace,
  type RimSetup,
  rimAngleFromClock,
  type SeenFrom,
} from '../../../src/core/tape/rim.ts'
import { chance } from '../../helpers/random.ts'

const bowl = bowlFromDepth(2400, 375)
const exact: RimSetup = { bowl, sigmaDiameter: 0, sigmaDepth: 0, mouthRadius: 0, phaseCentre: 0 }
type Place = Extract<RimPlace, { kind: 'place' }>

/** Distances by plain geometry in three dimensions, the rim's points walked round as the person sees them. */
function taped(
  at: { right: number; up: number; out: number },
  clocks: readonly number[],
  seenFrom: SeenFrom = 'behind',
  mouthRadius = 0,
  sigma = 2,
): RimDistance[] {
  return clocks.map(clock => {
    const turn = (clock / 12) * 2 * Math.PI
    const side = seenFrom === 'behind' ? 1 : -1
    const rim = [side * bowl.radius * Math.sin(turn), bowl.radius * Math.cos(turn), bowl.depth]
    let nearest = Infinity
    // The near edge of the mouth, found by walking round it; for 0 the centre itself.
    for (let k = 0; k < (mouthRadius > 0 ? 7200 : 1); k++) {
      const phi = (k / 7200) * 2 * Math.PI
      const edge = [at.right + mouthRadius * Math.sin(phi), at.up + mouthRadius * Math.cos(phi), at.out]
      nearest = Math.min(nearest, Math.hypot(rim[0]! - edge[0]!, rim[1]! - edge[1]!, rim[2]! - edge[2]!))
    }
    return { angle: rimAngleFromClock(clock, seenFrom), distance: nearest, sigma }
  })
}
const placed = (place: RimPlace): Place => {
  if (place.kind !== 'place') throw new Error(`got ${place.kind}`)
  return place
}

describe('feedFromRim', () => {
  it('is a difference of 8.99 mm across the dish for a feed 5 mm off its axis', () => {
    // By hand: 2 · 5 · 1200/1335, first order.
    const [left, right] = taped({ right: 5, up: 0, out: 960 }, [9, 3])
    expect(Math.abs(left!.distance - right!.distance - 8.99)).toBeLessThan(0.01)
  })

  it('finds any feed within 80 mm of the focus from exact distances, seen from behind and from in front, to 1e-6 mm', () => {
    const random = chance(611)
    let worst = 0
    for (let k = 0; k < 500; k++) {
      const at = { right: random.between(-80, 80), up: random.between(-80, 80), out: 960 + random.between(-80, 80) }
      const clocks = [
        [12, 4, 8],
        [12, 3, 6, 9],
        [1, 2.5, 7, 10, 11],
      ][k % 3]!
      const place = placed(feedFromRim(exact, taped(at, clocks, k % 2 ? 'behind' : 'front')))
      worst = Math.max(
        worst,
        Math.abs(place.right - at.right),
        Math.abs(place.up - at.up),
        Math.abs(place.axial - (at.out - 960)),
      )
      expect(place.suspect).toBeNull()
    }
    expect(worst).toBeLessThan(1e-6)
  })

  it('takes distances to the near edge of the mouth, and a phase centre inside it', () => {
    const at = { right: -14, up: 6, out: 945 }
    const place = placed(
      feedFromRim({ ...exact, mouthRadius: 90, phaseCentre: 20 }, taped(at, [12, 3, 6, 9], 'front', 90)),
    )
    expect(place.right).toBeCloseTo(-14, 3)
    expect(place.up).toBeCloseTo(6, 3)
    expect(place.axial).toBeCloseTo(5, 3)
  })

  it('has a σ that its errors keep: within 10 % over 2000 tapings at 12, 4, 8 with 2 mm of noise', () => {
    const random = chance(617)
    const at = { right: 12, up: -7, out: 965 }
    const sums = { right: 0, up: 0, axial: 0 }
    const n = 2000
    let sigma: Place | null = null
    for (let k = 0; k < n; k++) {
      const noisy = taped(at, [12, 4, 8]).map(d => ({ ...d, distance: d.distance + random.normal(2) }))
      const place = placed(feedFromRim(exact, noisy))
      sums.right += (place.right - at.right) ** 2
      sums.up += (place.up - at.up) ** 2
      sums.axial += (place.axial - 5) ** 2
      sigma = place
    }
    for (const [rms, stated] of [
      [Math.sqrt(sums.right / n), sigma!.sigmaRight],
      [Math.sqrt(sums.up / n), sigma!.sigmaUp],
      [Math.sqrt(sums.axial / n), sigma!.sigmaAxial],
    ] as const)
      expect(Math.abs(rms / stated - 1)).toBeLessThan(0.1)
  })

  it('says how far out less surely when the depth is: 2 mm of depth are 7 mm of focus', () => {
    // d(z - f) = (1 + f/depth) of the depth's error: (1 + 960/375) · 2 = 7.12 mm.
    const readings = taped({ right: 0, up: 0, out: 960 }, [12, 3, 6, 9], 'behind', 0, 0.01)
    const place = placed(feedFromRim({ ...exact, sigmaDepth: 2 }, readings))
    expect(Math.abs(place.sigmaAxial - 7.12)).toBeLessThan(0.05)
    expect(place.sigmaRight).toBeLessThan(0.05)
  })

  it('names the one slip among six, and widens σ by the misfit', () => {
    const slipped = taped({ right: 3, up: 4, out: 960 }, [12, 2, 4, 6, 8, 10])
    slipped[2] = { ...slipped[2]!, distance: slipped[2]!.distance + 40 }
    const place = placed(feedFromRim(exact, slipped))
    expect(place.suspect).toBe(2)
    expect(place.misfit!).toBeGreaterThan(10)
    const honest = placed(feedFromRim(exact, taped({ right: 3, up: 4, out: 960 }, [12, 2, 4, 6, 8, 10])))
    expect(place.sigmaRight).toBeGreaterThan(4 * honest.sigmaRight)
  })

  it('has no misfit with three distances and does not accuse one of four', () => {
    expect(placed(feedFromRim(exact, taped({ right: 3, up: 4, out: 960 }, [12, 4, 8]))).misfit).toBeNull()
    const four = taped({ right: 3, up: 4, out: 960 }, [12, 3, 6, 9])
    four[1] = { ...four[1]!, distance: four[1]!.distance + 40 }
    expect(placed(feedFromRim(exact, four)).suspect).toBeNull()
  })

  it('answers in kind what it cannot find', () => {
    expect(feedFromRim(exact, taped({ right: 0, up: 0, out: 960 }, [12, 6]))).toEqual({
      kind: 'too-few',
      have: 2,
      need: 3,
    })
    expect(feedFromRim(exact, taped({ right: 0, up: 0, out: 960 }, [12, 12.2, 12.4])).kind).toBe('too-close')
    const short = taped({ right: 0, up: 0, out: 960 }, [12, 4, 8]).map(d => ({ ...d, distance: 900 }))
    expect(feedFromRim(exact, short).kind).toBe('no-place')
    const deep = bowlFromDepth(2400, 600) // f = depth: the focus lies in the plane of the rim
    const flat = [12, 3, 6, 9].map(c => ({ angle: rimAngleFromClock(c, 'behind'), distance: 1200.2, sigma: 2 }))
    expect(feedFromRim({ ...exact, bowl: deep }, flat).kind).toBe('in-rim-plane')
  })

  it('works for a dish so deep that the feed sits inside its rim', () => {
    const inside = bowlFromDepth(2400, 800) // f 450 mm
    const readings = [12, 4, 8].map(clock => {
      const turn = (clock * Math.PI) / 6
      return {
        angle: turn,
        sigma: 2,
        distance: Math.hypot(1200 * Math.sin(turn) - 10, 1200 * Math.cos(turn) + 5, 800 - 455),
      }
    })
    const place = placed(feedFromRim({ ...exact, bowl: inside }, readings))
    expect(place.right).toBeCloseTo(10, 6)
    expect(place.up).toBeCloseTo(-5, 6)
    expect(place.axial).toBeCloseTo(5, 6)
  })
})

import { describe, expect, it } from 'vitest'
import {
  inverse3,
  inversePositive,
  inverseScaled,
  quadraticForm,
  solvePositive,
  square,
} from '../../src/core/matrices.ts'
import { apply, compose, type Rotation, rotation, transpose } from '../../src/core/rotations.ts'
import { cross, dot, type Vec3 } from '../../src/core/vectors.ts'
import { wahba } from '../../src/core/wahba.ts'
import { seeded } from '../helpers/random.ts'
import { between, directionOf } from './mount/sample.ts'

/** AᵀA + I of a random 3n × n matrix: symmetric, positive definite, the same to the last bit on both sides. */
function positive(random: () => number, n: number) {
  const rows = Array.from({ length: 3 * n }, () => Array.from({ length: n }, () => between(random, -1, 1)))
  const m = square(n)
  for (let i = 0; i < n; i++)
    for (let j = 0; j <= i; j++) {
      const sum = rows.reduce((s, r) => s + r[i]! * r[j]!, i === j ? 1 : 0)
      m.a[i * n + j] = sum
      m.a[j * n + i] = sum
    }
  return m
}
const times = (m: { n: number; a: Float64Array }, x: ArrayLike<number>): number[] =>
  Array.from({ length: m.n }, (_, i) => Array.from(x).reduce((s, v, j) => s + m.a[i * m.n + j]! * v, 0))

describe('solvePositive', () => {
  it('solves (4 1; 1 3) x = (1, 2): x = (1/11, 7/11)', () => {
    const x = solvePositive({ n: 2, a: Float64Array.of(4, 1, 1, 3) }, Float64Array.of(1, 2))!
    expect(x[0]).toBeCloseTo(1 / 11, 15)
    expect(x[1]).toBeCloseTo(7 / 11, 15)
  })

  it('solves what it is given, 1 to 30 unknowns, to 1e-12', () => {
    const random = seeded(501)
    for (let n = 1; n <= 30; n++) {
      const m = positive(random, n)
      const want = Float64Array.from({ length: n }, () => between(random, -5, 5))
      const x = solvePositive(m, Float64Array.from(times(m, want)))!
      want.forEach((w, i) => {
        expect(Math.abs(x[i]! - w)).toBeLessThan(1e-12)
      })
    }
  })

  it('is null for a matrix that is not positive definite', () => {
    expect(solvePositive({ n: 2, a: Float64Array.of(1, 2, 2, 1) }, Float64Array.of(1, 1))).toBeNull()
    expect(solvePositive({ n: 1, a: Float64Array.of(-1) }, Float64Array.of(1))).toBeNull()
  })
})

describe('inversePositive', () => {
  it('times the matrix is one, to 1e-12', () => {
    const random = seeded(503)
    for (const n of [1, 2, 7, 26]) {
      const m = positive(random, n)
      const inverse = inversePositive(m)
      for (let j = 0; j < n; j++) {
        const column = Float64Array.from({ length: n }, (_, i) => inverse.a[i * n + j]!)
        times(m, column).forEach((x, i) => {
          expect(x).toBeCloseTo(i === j ? 1 : 0, 12)
        })
      }
    }
  })

  it('throws for a matrix that is not positive definite: a mistake in our code', () => {
    expect(() => inversePositive({ n: 2, a: Float64Array.of(1, 2, 2, 1) })).toThrow(RangeError)
  })
})

describe('wahba', () => {
  const attitude = (random: () => number): Rotation => {
    const [a, b] = [directionOf(random), directionOf(random)]
    return compose(rotation(a, between(random, -3, 3)), rotation(b, between(random, -3, 3)))
  }
  const sumOf = (pairs: readonly (readonly [Vec3, Vec3])[]): number[] => {
    const M = new Array<number>(9).fill(0)
    for (const [a, b] of pairs) for (let r = 0; r < 3; r++) for (let c = 0; c < 3; c++) M[3 * r + c]! += b[r]! * a[c]!
    return M
  }
  const loss = (A: Rotation, pairs: readonly (readonly [Vec3, Vec3])[]) =>
    pairs.reduce((s, [a, b]) => s + 1 - dot(apply(A, a), b), 0)

  it('finds a known rotation from two or more directions, to 1e-12', () => {
    const random = seeded(511)
    for (let k = 0; k < 200; k++) {
      const A = attitude(random)
      const pairs = Array.from({ length: 2 + (k % 4) }, () => {
        const a = directionOf(random)
        return [a, apply(A, a)] as const
      })
      const found = wahba(sumOf(pairs))
      // Two directions close together or opposite leave the turn about them poorly held; these seeds have none.
      found.forEach((x, i) => {
        expect(Math.abs(x - A[i]!)).toBeLessThan(1e-12)
      })
    }
  })

  it('is a rotation and never a mirror, whatever it is given: one direction, opposite ones, noise', () => {
    const random = seeded(513)
    for (let k = 0; k < 200; k++) {
      const pairs = Array.from({ length: 1 + (k % 3) }, () => [directionOf(random), directionOf(random)] as const)
      const A = wahba(sumOf(pairs))
      const one = compose(A, transpose(A))
      one.forEach((x, i) => {
        expect(x).toBeCloseTo(i % 4 === 0 ? 1 : 0, 12)
      })
      const z = cross(apply(A, [1, 0, 0]), apply(A, [0, 1, 0]))
      expect(dot(z, apply(A, [0, 0, 1]))).toBeCloseTo(1, 12)
    }
  })

  it('leaves least: no small turn away from its answer fits noisy directions better', () => {
    const random = seeded(515)
    for (let k = 0; k < 50; k++) {
      const A = attitude(random)
      const pairs = Array.from({ length: 5 }, () => {
        const a = directionOf(random)
        return [a, apply(rotation(directionOf(random), 0.1 * random()), apply(A, a))] as const
      })
      const found = wahba(sumOf(pairs))
      const least = loss(found, pairs)
      for (let i = 0; i < 20; i++)
        expect(loss(compose(rotation(directionOf(random), 1e-3), found), pairs)).toBeGreaterThan(least)
    }
  })
})

describe('inverseScaled', () => {
  it('inverts where one unknown is 1e9 times another, and refuses what is no number', () => {
    const m = { n: 2, a: Float64Array.from([4e18, 1e9, 1e9, 1]) }
    const { a } = inverseScaled(m)
    // By hand: det = 4e18 - 1e18 = 3e18.
    for (const [i, by] of [1 / 3e18, -1e9 / 3e18, -1e9 / 3e18, 4 / 3].entries()) expect(a[i]! / by).toBeCloseTo(1, 12)
    expect(() => inverseScaled({ n: 1, a: Float64Array.from([Number.NaN]) })).toThrow(RangeError)
  })
})

describe('inverse3', () => {
  it('is the inverse of the sum of products of its rows, and null where they lie in a plane', () => {
    const rows: Vec3[] = [
      [1, 2, 0],
      [0, 1, 3],
      [2, 0, 1],
      [1, 1, 1],
    ]
    const inverse = inverse3(rows)!
    for (const i of [0, 1, 2] as const)
      for (const j of [0, 1, 2] as const) {
        const column: Vec3 = [0, 1, 2].map(k => rows.reduce((s, r) => s + r[k as 0]! * r[j], 0)) as unknown as Vec3
        expect(dot(inverse[i], column)).toBeCloseTo(i === j ? 1 : 0, 12)
      }
    expect(
      inverse3([
        [1, 0, 0],
        [0, 1, 0],
        [1, 1, 0],
      ]),
    ).toBeNull()
  })
})

describe('quadraticForm', () => {
  it('is 2·1·1 + 2·1·3 + 5·9 = 53 for [[2, 1], [1, 5]] and (1, 3)', () => {
    const C = Float64Array.from([2, 1, 1, 5])
    expect(quadraticForm(C, 2, Float64Array.from([1, 3]))).toBe(53)
    expect(quadraticForm(C, 2, Float64Array.from([9, 9, 1, 3]), 2)).toBe(53)
  })
})

import { describe, expect, it } from 'vitest'
import { readingAt, sideNumber, trueAngle } from '../../../src/core/mount/readings.ts'
import { onPaper, SLOT } from '../../../src/core/mount/slots.ts'
import { DEG } from '../../helpers/degrees.ts'
import { seeded } from '../../helpers/random.ts'
import { between, JACK, mountOf, moved, READOUTS, randomBuilt, slope, withoutJackScale } from './sample.ts'

describe('trueAngle', () => {
  it('is reading angle × (1 + scale) + zero: 50° read with 2 % and -3° is 48°', () => {
    const model = mountOf({ kind: 'el-over-az' })
    const built = onPaper()
    built[SLOT.upperScale] = 0.02
    built[SLOT.upperZero] = -3 * DEG
    const at = trueAngle(model, built, 'upper', 50)
    expect(at.kind === 'angle' && at.angle / DEG).toBeCloseTo(48, 12)
    const lower = trueAngle(model, built, 'lower', 50)
    expect(lower.kind === 'angle' && lower.angle / DEG).toBeCloseTo(50, 12)
  })

  it('adds half the play when arrived in the + direction of the reading, takes it off in the other', () => {
    const model = mountOf({ kind: 'el-over-az' })
    const built = onPaper()
    built[SLOT.lowerPlay] = 1 * DEG
    const at = (side: '+' | '-' | undefined) => {
      const a = trueAngle(model, built, 'lower', 10, sideNumber(side))
      return a.kind === 'angle' ? a.angle / DEG : Number.NaN
    }
    expect([at('+'), at('-'), at(undefined)].map(x => Number(x.toFixed(12)))).toEqual([10.5, 9.5, 10])
  })

  it('adds millimetres to a jack’s taped arms: 700 + 5 and 450 - 3 give the law of cosines of 705 and 447', () => {
    const model = mountOf({ kind: 'az-over-el', lower: JACK })
    const built = onPaper()
    built[SLOT.lowerBaseArm] = 5
    built[SLOT.lowerRodArm] = -3
    const at = trueAngle(model, built, 'lower', 500)
    const L = 420 + 500 / 1.9
    const phi = Math.acos((705 ** 2 + 447 ** 2 - L ** 2) / (2 * 705 * 447))
    expect(at.kind === 'angle' && at.angle).toBeCloseTo(phi - 75 * DEG, 14)
  })

  it('has the slopes of central differences, to 1e-9, for every readout and large values: 200 states each', () => {
    const random = seeded(201)
    for (const readout of READOUTS) {
      for (let k = 0; k < 200; k++) {
        for (const axis of ['lower', 'upper'] as const) {
          const model = mountOf({ kind: 'x-y', lower: readout, upper: readout })
          const built = randomBuilt(random) // a scale on a jack, too: no station has one, the slopes hold all the same
          const reading = readout.type === 'jack' ? between(random, 30, 970) : between(random, -400, 400)
          const side = ([-1, 0, 1] as const)[k % 3]!
          const at = trueAngle(model, built, axis, reading, side)
          if (at.kind !== 'angle') throw new Error('no triangle')
          const by = (slot: number, h: number) =>
            slope(d => {
              const a = trueAngle(model, moved(built, slot, d), axis, reading, side)
              return [a.kind === 'angle' ? a.angle : Number.NaN]
            }, h)[0]!
          const s = axis === 'lower' ? 'lower' : 'upper'
          expect(Math.abs(by(SLOT[`${s}Scale`], 1e-3) - at.perScale)).toBeLessThan(1e-9)
          expect(Math.abs(by(SLOT[`${s}Zero`], 1e-3) - 1)).toBeLessThan(1e-9)
          expect(Math.abs(by(SLOT[`${s}BaseArm`], 0.1) - at.perBase)).toBeLessThan(1e-9)
          expect(Math.abs(by(SLOT[`${s}RodArm`], 0.1) - at.perRod)).toBeLessThan(1e-9)
          expect(Math.abs(by(SLOT[`${s}Play`], 1e-3) - at.perPlay)).toBeLessThan(1e-9)
          expect(Math.abs(by(SLOT[`${s}Shift`], 0.02) - at.perReading)).toBeLessThan(1e-9)
          const perReading = slope(d => {
            const a = trueAngle(model, built, axis, reading + d, side)
            return [a.kind === 'angle' ? a.angle : Number.NaN]
          }, 0.1)[0]!
          expect(Math.abs(perReading - at.perReading)).toBeLessThan(1e-9)
        }
      }
    }
  })
})

describe('readingAt', () => {
  it('undoes trueAngle for every readout, zero, scale and arms of any size, to 1e-9 of a reading', () => {
    const random = seeded(211)
    for (const readout of READOUTS) {
      for (let k = 0; k < 300; k++) {
        const model = mountOf({ kind: 'x-y', lower: readout, upper: readout })
        const built = withoutJackScale(model, randomBuilt(random))
        const reading = readout.type === 'jack' ? between(random, 0, 1000) : between(random, -700, 700)
        for (const axis of ['lower', 'upper'] as const) {
          const at = trueAngle(model, built, axis, reading)
          if (at.kind !== 'angle') throw new Error('no triangle')
          expect(Math.abs(readingAt(model, built, axis, at.angle)! - reading)).toBeLessThan(1e-9)
        }
      }
    }
  })

  it('is null where a jack has no such reading: beyond its dead centres', () => {
    const model = mountOf({ kind: 'az-over-el', upper: JACK })
    expect(readingAt(model, onPaper(), 'upper', -76 * DEG)).toBeNull()
    expect(readingAt(model, onPaper(), 'upper', 106 * DEG)).toBeNull()
    expect(readingAt(model, onPaper(), 'upper', 104 * DEG)).not.toBeNull()
  })
})

/** Levels against published and worked figures, noise against the radiometer equation. */
import { describe, expect, it } from 'vitest'
import { still } from '../../../src/core/rehearse/drives.ts'
import { powerOverDisc } from '../../../src/core/rehearse/pattern.ts'
import {
  echoDb,
  groundK,
  kelvinOf,
  levelDb,
  moonPointK,
  type Receiver,
  type Scenery,
  sunPointK,
  tremblingDb,
} from '../../../src/core/rehearse/receiver.ts'
import { worldOf } from '../../../src/core/rehearse/world.ts'

const receiver = (over: Partial<Receiver> = {}): Receiver => ({
  frequencyMHz: 1296,
  diameterM: 2.4,
  hpbwDeg: 6.747,
  systemK: 80,
  sunSfu: 50,
  referenceDb: 0,
  bandwidthHz: 100_000,
  ...over,
})
const HIGH: Scenery = { beamElDeg: 60, horizonDeg: 0, sun: null, moon: null }

describe('the Sun and the Moon in the receiver', () => {
  it('add what an amateur worked out and published: F 42, G 51.8, λ 0.689 m, 298 K (amsat-bb, January 2002)', () => {
    // G = η (πD/λ)²: the dish that has that gain with the efficiency used here.
    const wave = 0.689
    const diameterM = (wave / Math.PI) * Math.sqrt(51.8 / 0.55)
    expect(sunPointK(receiver({ frequencyMHz: 299.792458 / wave, diameterM, sunSfu: 42 }))).toBeCloseTo(298, -1)
    expect(
      Math.abs(sunPointK(receiver({ frequencyMHz: 299.792458 / wave, diameterM, sunSfu: 42 })) - 297.64),
    ).toBeLessThan(0.2)
  })

  it.each([
    // T F·G·λ²/3.47 and 20 log of the rise, worked by hand (2.4 m, η 0.55).
    [1296, 50, 80, 449.6],
    [2320, 60, 80, 537.0],
    [5760, 130, 90, 1123.3],
    [10368, 270, 100, 2128.3],
  ])('at %i MHz and %i sfu: %i K of system, %d K of Sun in its beam', (frequencyMHz, sunSfu, systemK, kelvin) => {
    const r = receiver({ frequencyMHz, sunSfu, systemK })
    const inBeam = sunPointK(r) * powerOverDisc([0, 0], 0.53, (70 * 299.792458) / frequencyMHz / 2.4)
    // The pattern is not a Gaussian: 1.2 % apart where the Sun fills half the beam.
    expect(Math.abs(inBeam / kelvin - 1)).toBeLessThan(0.015)
  })

  it('hear the Moon of 230 K with 0.037 dB at 1296 MHz: nothing to peak on', () => {
    const r = receiver()
    const rise = 10 * Math.log10((80 + moonPointK(r)) / 80)
    expect(rise).toBeGreaterThan(0.03)
    expect(rise).toBeLessThan(0.045)
  })

  it('fall by 3 dB of their own kelvins at half a beamwidth', () => {
    const r = receiver()
    const quiet = kelvinOf(r, HIGH)
    const full = kelvinOf(r, { ...HIGH, sun: [0, 0] }) - quiet
    const half = kelvinOf(r, { ...HIGH, sun: [0, r.hpbwDeg / 2] }) - quiet
    expect(half / full).toBeCloseTo(0.5, 2)
  })

  it('lose echoes twice: 6 dB at half a beamwidth', () => {
    expect(echoDb(12, [0, 0], 5)! - echoDb(12, [2.5, 0], 5)!).toBeCloseTo(6.02, 1)
    expect(echoDb(12, null, 5)).toBeNull()
  })
})

describe('the ground', () => {
  it('fills half the main beam at the horizon and is gone high up', () => {
    expect(groundK(0, 0, 5)).toBeGreaterThan(120)
    expect(groundK(0, 0, 5)).toBeLessThan(160)
    expect(groundK(60, 0, 5)).toBeLessThan(0.5)
    expect(levelDb(receiver(), { ...HIGH, beamElDeg: 3 })).toBeGreaterThan(levelDb(receiver(), HIGH) + 1)
  })
})

describe('the noise of a level', () => {
  it('is 4.343/√(Bτ): 0.0971 dB for 2 kHz and a second, 0.0043 for 1 MHz', () => {
    expect(tremblingDb(2000, 1)).toBeCloseTo(0.0971, 4)
    expect(tremblingDb(1e6, 1)).toBeCloseTo(0.004343, 6)
  })

  it('is what levels of a dish at rest scatter by, within 8 % over 1000 seconds', () => {
    const world = worldOf({ seed: 3, difficulty: 'beginner', kind: 'az-over-el', startUtc: '2026-05-01T08:00:00Z' })
    const { lower, upper } = world.drives
    const hands = { lower: still((lower.low + lower.high) / 2), upper: still((upper.low + upper.high) / 2) }
    const levels = [...Array(1000).keys()].map(k => world.hears(hands, Date.UTC(2026, 4, 1, 0, 0, k), 1).db)
    // Neighbours' differences: the Sun and the Moon move meanwhile, the noise does not remember.
    const steps = levels.slice(1).map((x, k) => x - levels[k]!)
    const sigma = Math.sqrt(steps.reduce((a, x) => a + x * x, 0) / steps.length / 2)
    expect(Math.abs(sigma / tremblingDb(world.receiver.bandwidthHz, 1) - 1)).toBeLessThan(0.08)
  })

  it('shows the same again at the same time', () => {
    const world = worldOf({ seed: 3, difficulty: 'beginner', kind: 'x-y', startUtc: '2026-05-01T08:00:00Z' })
    const hands = { lower: still(0), upper: still(0) }
    const at = Date.UTC(2026, 4, 1, 9)
    expect(world.hears(hands, at, 1)).toEqual(world.hears(hands, at, 1))
    expect(world.hears(hands, at, 1).db).not.toBe(world.hears(hands, at + 1000, 1).db)
  })
})

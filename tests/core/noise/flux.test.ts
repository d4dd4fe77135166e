import { describe, expect, it } from 'vitest'
import { fluxBetween, quietFlux, standardAround } from '../../../src/core/noise/flux.ts'

describe('fluxBetween', () => {
  it('is a straight line in the logarithms: the quiet Sun has 50.3, 65.3, 133.8, 272.4 sfu at 1296, 2320, 5760, 10 368 MHz', () => {
    // Worked by hand between the published frequencies' quiet values (from memory, ± 10 %).
    for (const [mhz, sfu] of [
      [1296, 50.3],
      [2320, 65.3],
      [5760, 133.8],
      [10368, 272.4],
    ] as const)
      expect(Math.abs(quietFlux(mhz)! - sfu)).toBeLessThan(0.06)
  })

  it('refuses 10.7 cm alone, and says which frequency it was given', () => {
    // Never scaled to other bands: owenduffy.net/blog/?p=990.
    expect(fluxBetween(1296, [{ frequencyMHz: 2800, sfu: 130 }])).toEqual({
      kind: 'one-frequency',
      frequencyMHz: 2800,
    })
    expect(fluxBetween(1296, []).kind).toBe('one-frequency')
  })

  it('takes 10.7 cm at 10.7 cm, and a published value at its own frequency', () => {
    expect(fluxBetween(2800, [{ frequencyMHz: 2800, sfu: 130 }])).toEqual({ kind: 'flux', sfu: 130 })
    expect(
      fluxBetween(1415, [
        { frequencyMHz: 1415, sfu: 60 },
        { frequencyMHz: 2695, sfu: 90 },
      ]),
    ).toEqual({ kind: 'flux', sfu: 60 })
  })

  it('goes by the nearest two that bracket it, and refuses two on one side or far apart', () => {
    const given = [
      { frequencyMHz: 2695, sfu: 90 },
      { frequencyMHz: 610, sfu: 40 },
      { frequencyMHz: 1415, sfu: 60 },
    ]
    const found = fluxBetween(2320, given)
    expect(found).toMatchObject({ kind: 'flux' })
    expect(found).toEqual(fluxBetween(2320, [given[2]!, given[0]!]))
    expect(fluxBetween(5760, given)).toEqual({ kind: 'not-between', from: 610, to: 2695 })
    expect(
      fluxBetween(1296, [
        { frequencyMHz: 245, sfu: 10 },
        { frequencyMHz: 15400, sfu: 500 },
      ]),
    ).toEqual({ kind: 'too-far-apart', from: 245, to: 15400 })
  })

  it('stops a flux of nought at the door', () => {
    expect(() => fluxBetween(1296, [{ frequencyMHz: 610, sfu: 0 }])).toThrow(RangeError)
  })
})

describe('standardAround', () => {
  it('names the published neighbours, the one that it is, or none beyond 15.4 GHz', () => {
    expect(standardAround(1296)).toEqual([610, 1415])
    expect(standardAround(10368)).toEqual([8800, 15400])
    expect(standardAround(1415)).toEqual([1415])
    expect(standardAround(24048)).toBeNull()
    expect(standardAround(144)).toBeNull()
    expect(quietFlux(24048)).toBeNull()
  })
})

import { describe, expect, it } from 'vitest'
import { heardOf } from '../../../src/core/noise/heard.ts'
import { sourceFlux } from '../../../src/core/noise/sourceflux.ts'
import { SOURCE_NAMES } from '../../../src/core/sky/sources.ts'
import { gravelPit } from '../../helpers/stations.ts'

const jansky = (name: string, mhz: number, year = 2016) => {
  const flux = sourceFlux(name, mhz, year)
  if (flux.kind !== 'flux') throw new Error(flux.kind)
  return flux.jansky
}

describe('sourceFlux', () => {
  it('at 1 GHz is 10 to the first coefficient of Perley & Butler 2017', () => {
    expect(jansky('Cygnus A', 1000)).toBeCloseTo(2238, 0)
    expect(jansky('Taurus A', 1000)).toBeCloseTo(894.5, 0)
    expect(jansky('Virgo A', 1000)).toBeCloseTo(279.6, 0)
    expect(jansky('Cassiopeia A', 1000)).toBeCloseTo(2282, 0)
  })

  it('is at 10 368 MHz by Baars et al. 1977: Taurus A 518 Jy, Virgo A 38.5 Jy', () => {
    // 10^(3.915 - 0.299 · 4.01570), 10^(5.023 - 0.856 · 4.01570): worked by hand.
    expect(jansky('Taurus A', 10_368)).toBeCloseTo(518, 0)
    expect(jansky('Virgo A', 10_368)).toBeCloseTo(38.5, 0)
  })

  it('agrees between the two papers where one takes over from the other, within 12 %', () => {
    for (const [name, joint] of [
      ['Cassiopeia A', 4000],
      ['Cygnus A', 12_000],
      ['Taurus A', 4000],
      ['Virgo A', 3000],
    ] as const)
      expect(Math.abs(jansky(name, joint + 1) / jansky(name, joint - 1) - 1), name).toBeLessThan(0.12)
  })

  it('lets Cassiopeia A fade by 6.3 % in ten years, and no other', () => {
    expect(jansky('Cassiopeia A', 1296, 2026) / jansky('Cassiopeia A', 1296, 2016)).toBeCloseTo(0.937, 3)
    expect(jansky('Cygnus A', 1296, 2026)).toBe(jansky('Cygnus A', 1296, 2016))
  })

  it('says of every source in the list either a flux at 1296 MHz or why there is none', () => {
    const kinds = SOURCE_NAMES.map(name => sourceFlux(name, 1296, 2026).kind)
    expect(kinds).toEqual(['flux', 'flux', 'flux', 'flux', 'extended'])
    expect(sourceFlux('Virgo A', 47_000, 2026).kind).toBe('outside-spectrum')
  })
})

describe('heardOf', () => {
  const station = gravelPit({ feeds: [{ id: 'a', name: 'ring', frequencyMHz: 1296, systemTemperatureK: 80 }] })
  const feed = station.feeds[0]!

  it('is S A/2k over the system: Cassiopeia A with 3 m and 80 K at 1296 MHz 0.13 dB', () => {
    // 1747 Jy (2026) · 3.888 m² / 2k = 2.46 K; 10 log (1 + 2.46/80).
    const heard = heardOf(station, feed, { type: 'source', name: 'Cas A' }, 2026)
    expect(heard).toMatchObject({ kind: 'rise', systemK: 80, systemFrom: 'station' })
    if (heard?.kind !== 'rise') throw new Error()
    expect(heard.db).toBeCloseTo(0.132, 2)
    expect(heard.jansky! / 1747).toBeCloseTo(1, 1)
  })

  it('grows with the dish, and says of Sun and Moon what the noise page says', () => {
    const large = { ...station, dish: { ...station.dish, diameterM: 9 } }
    const db = (s: typeof station) =>
      (heardOf(s, feed, { type: 'source', name: 'Cygnus A' }, 2026) as { db: number }).db
    expect(db(large)).toBeGreaterThan(6 * db(station))
    expect(heardOf(station, feed, { type: 'sun' }, 2026)).toMatchObject({ kind: 'rise', fluxFrom: 'quiet' })
    expect((heardOf(station, feed, { type: 'moon' }, 2026) as { db: number }).db).toBeLessThan(0.1)
    expect(heardOf(station, feed, { type: 'landmark', azDeg: 1, elDeg: 2 }, 2026)).toBeNull()
  })
})

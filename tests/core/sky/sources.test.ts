import { describe, expect, it } from 'vitest'
import { findSource, SOURCE_NAMES } from '../../../src/core/sky/sources.ts'
import { DEG } from '../../helpers/degrees.ts'

describe('findSource', () => {
  it('knows the five by any usual spelling', () => {
    for (const [name, spellings] of [
      ['Cassiopeia A', ['cassiopeia_a', 'CASSIOPEIA A', 'Cas A', 'cas-a', '3C461']],
      ['Cygnus A', ['cygnus_a', 'Cyg A', '3c 405']],
      ['Taurus A', ['taurus_a', ' tau a ', 'M1', 'crab nebula']],
      ['Virgo A', ['virgo_a', 'Vir A', 'M 87']],
      ['Sagittarius A*', ['sagittarius_a_star', 'Sagittarius A', 'Sgr A*', 'sgr_a']],
    ] as const)
      for (const s of [name, ...spellings]) expect(findSource(s)?.name).toBe(name)
  })

  it('says null to any other name', () => {
    for (const s of ['', 'Cas', 'Cassiopeia B', 'constructor', '__proto__', '月', '***'])
      expect(findSource(s)).toBeNull()
  })

  it('lists its names, each of which it finds', () => {
    expect(SOURCE_NAMES).toEqual(['Cassiopeia A', 'Cygnus A', 'Taurus A', 'Virgo A', 'Sagittarius A*'])
    for (const n of SOURCE_NAMES) expect(findSource(n)?.name).toBe(n)
  })

  it('has Sagittarius A* at 266.41684°, -29.00781°', () => {
    // Reid & Brunthaler 2004, ApJ 616, 872: 17h45m40.0409s, -29°00′28.118″ [M]
    const s = findSource('Sgr A*')!
    expect(s.ra / DEG).toBeCloseTo(266.41684, 4)
    expect(s.dec / DEG).toBeCloseTo(-29.00781, 4)
  })
})

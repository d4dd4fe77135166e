import { describe, expect, it } from 'vitest'
import { targetFromText, textFromTarget } from '../../../src/core/records/targetname.ts'

describe('targetFromText', () => {
  it.each([
    ['moon', { type: 'moon' }],
    ['sun', { type: 'sun' }],
    ['source:Cassiopeia A', { type: 'source', name: 'Cassiopeia A' }],
    ['source:cas a', { type: 'source', name: 'cas a' }],
    ['geostationary:-30.5', { type: 'geostationary', lonDeg: -30.5 }],
    ['geostationary:180', { type: 'geostationary', lonDeg: 180 }],
    ['landmark:359.9,-1.25', { type: 'landmark', azDeg: 359.9, elDeg: -1.25 }],
  ] as const)('reads %s, and writes it again', (text, target) => {
    expect(targetFromText(text)).toEqual({ ok: true, value: target })
    expect(textFromTarget(target)).toBe(text)
  })

  it.each([
    ['mars', 'type'],
    ['', 'type'],
    ['Moon', 'type'],
    ['moon:', 'type'],
    ['geostationary', 'type'],
    ['geo:5', 'type'],
    ['constructor', 'type'],
    ['source:', 'name'],
    ['source:Nowhere', 'name'],
    ['geostationary:', 'lonDeg'],
    ['geostationary:181', 'lonDeg'],
    ['geostationary:1e1', 'lonDeg'],
    ['geostationary: 5', 'lonDeg'],
    ['landmark:1', 'elDeg'],
    ['landmark:361,0', 'azDeg'],
    ['landmark:0,91', 'elDeg'],
    ['landmark:1,2,3', 'azDeg'],
  ])('refuses %j, at %s', (text, path) => {
    const answer = targetFromText(text)
    expect(answer.ok).toBe(false)
    if (!answer.ok) expect(answer.faults.map(f => f.path)).toEqual([path])
  })
})

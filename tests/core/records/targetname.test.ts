import { describe, expect, it } from 'vitest'
import { targetFromText, textFromTarget } from '../../../src/core/records/targetname.ts'

describe('targetFromText', () => {
  it.each([
    ['moon', { type: 'moon' }],
    ['sun', { type: 'sun' }],
    ['source:Cassiopeia A', { type: 'source', name: 'Cassiopeia A' }],
    ['source:cas a', { type: 'source', name: 'cas a' }],
    ['geo:-30.5', { type: 'geostationary', lonDeg: -30.5 }],
    ['geo:180', { type: 'geostationary', lonDeg: 180 }],
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
    ['geo', 'type'],
    ['constructor', 'type'],
    ['source:', 'name'],
    ['source:Nowhere', 'name'],
    ['geo:', 'lonDeg'],
    ['geo:181', 'lonDeg'],
    ['geo:1e1', 'lonDeg'],
    ['geo: 5', 'lonDeg'],
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

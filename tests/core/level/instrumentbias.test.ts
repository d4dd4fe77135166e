import { describe, expect, it } from 'vitest'
import { BIAS_LASTS_MS, biasFor } from '../../../src/core/level/instrumentbias.ts'
import type { LevelRecord } from '../../../src/core/records/fieldbook.ts'
import type { InstrumentRecord } from '../../../src/core/records/instruments.ts'
import { degFromRad } from '../../../src/core/units.ts'

const FOUND = '2026-05-01T10:00:00Z'
const MS = Date.parse(FOUND)
const phone: InstrumentRecord = {
  id: 'p',
  name: 'Phone, long edge',
  type: 'phone',
  edge: 'long',
  phone: 'mine',
  bias: { utc: FOUND, biasDeg: 0.4, sigmaDeg: 0.11, atDeg: 12, about: 'x' },
}
const now = { nowMs: MS + 3_600_000, clamping: null, about: 'x', phone: 'mine' } as const
const level = (utc: string, clamping?: string): LevelRecord => ({
  id: utc,
  utc,
  what: 'lower-axis-elevation',
  valueDeg: 0,
  sigmaDeg: 0.2,
  instrument: 'p',
  ...(clamping !== undefined && { clamping }),
})

describe('biasFor', () => {
  it('is valid an hour later, lying the same way', () => {
    const use = biasFor(phone, [], now)
    if (use.kind !== 'valid') throw new Error(use.kind)
    expect(degFromRad(use.bias)).toBeCloseTo(0.4, 12)
    expect(degFromRad(use.foundAt)).toBeCloseTo(12, 12)
    expect(use.ageMs).toBe(3_600_000)
  })
  it('lasts a day and not longer, and does not reach back before it was found', () => {
    expect(biasFor(phone, [], { ...now, nowMs: MS + BIAS_LASTS_MS }).kind).toBe('valid')
    expect(biasFor(phone, [], { ...now, nowMs: MS + BIAS_LASTS_MS + 1 }).kind).toBe('old')
    expect(biasFor(phone, [], { ...now, nowMs: MS - 1 }).kind).toBe('old')
  })
  it('ends with a new clamping, now or in between', () => {
    expect(biasFor(phone, [], { ...now, clamping: 'c' }).kind).toBe('clamped-anew')
    const between = [level('2026-05-01T10:30:00Z', 'c')]
    expect(biasFor(phone, between, now).kind).toBe('clamped-anew')
    expect(biasFor(phone, [level('2026-05-01T09:30:00Z', 'c'), level('2026-05-01T10:30:00Z')], now).kind).toBe('valid')
    const other = between.map(l => ({ ...l, instrument: 'another' }))
    expect(biasFor(phone, other, now).kind).toBe('valid')
  })
  it('holds within the clamping in which it was found, and not out of it', () => {
    const clamped = { ...phone, bias: { ...phone.bias!, clamping: 'c' } }
    expect(biasFor(clamped, [level('2026-05-01T10:30:00Z', 'c')], { ...now, clamping: 'c' }).kind).toBe('valid')
    expect(biasFor(clamped, [], now).kind).toBe('clamped-anew')
  })
  it('is another side’s on another side, and another phone’s on another phone', () => {
    expect(biasFor(phone, [], { ...now, about: 'z' }).kind).toBe('lies-otherwise')
    expect(biasFor(phone, [], { ...now, phone: 'yours' }).kind).toBe('other-phone')
  })
  it('is none without an instrument or a reversal', () => {
    expect(biasFor(null, [], now)).toEqual({ kind: 'none' })
    const { bias: _, ...never } = phone
    expect(biasFor(never, [], now)).toEqual({ kind: 'none' })
  })
})

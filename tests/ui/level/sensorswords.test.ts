import { describe, expect, it } from 'vitest'
import { radFromDeg } from '../../../src/core/units.ts'
import type { AttitudeFacts } from '../../../src/state/level.ts'
import { sensorAdvice, sensorRows, sensorText } from '../../../src/ui/level/sensorswords.ts'
import { plain } from '../../helpers/plain.ts'

const FACTS: AttitudeFacts = {
  orientation: { events: 120, nullEvents: 0, step: 0.1, rateHz: 58.7 },
  motion: { events: 240, nullEvents: 0, step: 0.1, rateHz: 60 },
  sign: -1,
  apart: radFromDeg(0.31),
  mustAsk: true,
  permission: 'granted',
}

describe('sensorRows', () => {
  it('tell step, rate, sign, permission and source of a phone that delivers', () => {
    const attitude = {
      state: 'delivering',
      up: [0, 0, 1],
      source: 'orientation',
      step: radFromDeg(0.1),
      rateHz: 58.7,
    } as const
    const text = plain(sensorText(sensorRows(attitude, FACTS), 'a browser'))
    expect(text).toContain('Permission: granted')
    expect(text).toContain('Used: orientation')
    expect(text).toContain('Smallest step seen: 0.100°\n  Rate: 59 a second')
    expect(text).toContain('Smallest step seen: 0.100 m/s²')
    expect(text).toContain('Shows when lying on its back: − on z')
    expect(text).toContain('Difference from orientation: 0.31°')
    expect(text.endsWith('a browser')).toBe(true)
    expect(sensorAdvice(attitude)).toBeNull()
  })
  it('say so where nothing was seen, and what to do', () => {
    const none = { events: 0, nullEvents: 1, step: null, rateHz: null }
    const attitude = { state: 'null-events', up: null, source: null, step: 0, rateHz: null } as const
    const facts: AttitudeFacts = { ...FACTS, orientation: none, motion: none, sign: null, apart: null, mustAsk: false }
    const text = plain(sensorText(sensorRows(attitude, facts), ''))
    expect(text).toContain('Sensors: empty events')
    expect(text).toContain('Permission: not needed')
    expect(text).toContain('Events: 0, and 1 empty')
    expect(text).toContain('Shows when lying on its back: not seen yet')
    expect(sensorAdvice(attitude)).toMatch(/inclinometer/)
  })
})

import { describe, expect, it } from 'vitest'
import type { StationRecord } from '../../../src/core/records/fieldbook.ts'
import { heardBodies, scanTarget } from '../../../src/core/scan/whichtarget.ts'
import { targetNoteWords } from '../../../src/ui/scan/words.ts'
import { plain } from '../../helpers/plain.ts'
import { bareStation } from '../../helpers/smallbook.ts'

const MOON = { type: 'moon' } as const
const SUN = { type: 'sun' } as const

const of = (frequencyMHz: number, diameterM: number, more: Partial<StationRecord['feeds'][number]> = {}) => {
  const feed = { id: 'a', name: 'horn', frequencyMHz, ...more }
  return heardBodies({ ...bareStation('st'), dish: { diameterM, focalRatio: 0.4 }, feeds: [feed] }, feed)
}

describe('scanTarget', () => {
  it('is the Sun at 1296 MHz with 2.4 m, where the Moon’s own noise is 0.04 dB', () => {
    // The figure of the trade: 0.037 dB with 230 K and 80 K.
    const heard = of(1296, 2.4, { systemTemperatureK: 80 })
    expect(heard.moon.db).toBeCloseTo(0.037, 2)
    const { target, note } = scanTarget(heard, MOON, false)
    expect(target).toEqual(SUN)
    expect(plain(targetNoteWords(note!))).toBe(
      'The Sun, since the Moon’s noise is too weak for a scan with this feed: expect 0.04 dB above cold sky.',
    )
  })

  it('stays the Moon at 10 368 MHz with 2.4 m, where it is 1.3 dB', () => {
    expect(scanTarget(of(10368, 2.4), MOON, false)).toEqual({ target: MOON, note: null })
  })

  it('is the Moon by its echoes only where that was chosen, or where the Sun is not heard', () => {
    const echoes = { hearsMoonEchoes: true }
    expect(scanTarget(of(1296, 2.4, echoes), MOON, false).target).toEqual(SUN)
    expect(scanTarget(of(1296, 2.4, echoes), MOON, true)).toEqual({ target: MOON, note: null })
    expect(scanTarget(of(432, 0.3, echoes), MOON, false)).toEqual({ target: MOON, note: null })
  })

  it('stays a Moon too weak that was chosen for a scan, and says what to choose', () => {
    const { target, note } = scanTarget(of(1296, 2.4), MOON, true)
    expect(target).toEqual(MOON)
    expect(plain(targetNoteWords(note!))).toBe(
      'The Moon’s noise is too weak for a scan with this feed: expect 0.03 dB above cold sky. Choose the Sun.',
    )
  })

  it('says in one sentence that neither is heard: 0.3 m at 432 MHz', () => {
    const { target, note } = scanTarget(of(432, 0.3), MOON, false)
    expect(target).toEqual(MOON)
    expect(plain(targetNoteWords(note!))).toMatch(
      /^No scan of Sun or Moon will work with this feed: neither the Sun \(expect 0\.\d\d dB above cold sky\) nor the Moon \(expect 0\.00 dB above cold sky\) is strong enough\.$/,
    )
  })

  it('takes a Sun whose flux is not published at the frequency for strong enough', () => {
    const heard = of(24048, 1.2)
    expect(heard.sun).toEqual({ db: null, isEnough: true })
    expect(scanTarget(heard, SUN, false).note).toBeNull()
  })

  it('leaves a source or satellite alone', () => {
    const satellite = { type: 'geostationary', lonDeg: 13 } as const
    expect(scanTarget(of(1296, 2.4), satellite, false)).toEqual({ target: satellite, note: null })
  })
})

import { describe, expect, it } from 'vitest'
import { clockOutWords, crossingWords, magneticWords, sunlineShadowWords } from '../../../src/ui/north/words.ts'
import { DEG } from '../../helpers/degrees.ts'
import { plain } from '../../helpers/plain.ts'

describe('words of the Sun’s line', () => {
  it('say which way the shadow turns and how long it is', () => {
    const [turning, long] = sunlineShadowWords({
      kind: 'shadow',
      az: 350 * DEG,
      sunAz: 170 * DEG,
      sunEl: 30 * DEG,
      perMinute: 0.31 * DEG,
      perMetre: 1.732,
    })
    expect(turning).toBe('Toward the north, turning 0.31° a minute clockwise, seen from above.')
    expect(plain(long!)).toBe('A plumb line of 2 m casts a shadow of 3.5 m.')
  })
  it('say what a wrong minute does here and now, not a rule of thumb; nothing of it while there is no shadow', () => {
    // At noon in the tropics the azimuth runs ten times as fast as on a winter's morning in the north.
    for (const perMinute of [0.18, 1.9]) {
      const shadow = {
        kind: 'shadow',
        az: 0,
        sunAz: Math.PI,
        sunEl: 1,
        perMinute: perMinute * DEG,
        perMetre: 1,
      } as const
      expect(clockOutWords(shadow)).toContain(`by ${perMinute.toFixed(2)}° now`)
    }
    expect(clockOutWords({ kind: 'too-low', sunEl: 0 })).not.toMatch(/°/)
  })
  it('say that the Sun is down, or low, or overhead', () => {
    expect(sunlineShadowWords({ kind: 'too-low', sunEl: -0.1 })).toEqual(['The Sun is down.'])
    expect(sunlineShadowWords({ kind: 'too-low', sunEl: 2 * DEG })[0]).toContain('only 2.0° up')
    expect(sunlineShadowWords({ kind: 'too-high', sunEl: 1.5 })[0]).toContain('overhead')
  })
  it('say which end of the line the shadow points to, and count down', () => {
    const at = Date.UTC(2026, 3, 27, 11, 20, 5)
    const sun = crossingWords({ utcMs: at, end: 'sun', sunEl: 40 * DEG }, at - 65_000, 170)
    expect(plain(sun.countdown)).toBe('1 min 5 s')
    expect(plain(sun.text)).toBe(
      'At 11:20:05 UTC the shadow points to 350.0°, the line’s other end. The Sun is 40° up then.',
    )
    expect(plain(crossingWords({ utcMs: at, end: 'shadow', sunEl: 1 }, at, 170).text)).toContain(
      'points to 170.0°. The',
    )
  })
})

describe('words of the declination', () => {
  it('name the side, and refuse a needle near the pole', () => {
    expect(magneticWords({ kind: 'declination', deg: -3.44, horizontalNt: 20000, needle: 'good' })).toEqual({
      ok: true,
      text: 'Declination here: 3.4° west.',
    })
    expect(magneticWords({ kind: 'declination', deg: 40, horizontalNt: 900, needle: 'useless' }).ok).toBe(false)
    expect(magneticWords({ kind: 'outside-years', year: 2031 })).toMatchObject({ ok: false })
  })
})

/** What each verdict says: which way a clock is wrong, where the other longitude lies, what to ask for next, what it costs. */
import { describe, expect, it } from 'vitest'
import type { ProgramJson } from '../../../src/core/check/programjson.ts'
import { program } from '../../../src/core/questions.ts'
import type { TargetRecord } from '../../../src/core/records/fieldbook.ts'
import { stationFromRecord } from '../../../src/core/records/stationintake.ts'
import { apparentPlace } from '../../../src/core/sky/targets.ts'
import { differWords, placeCostWords, programSaid } from '../../../src/ui/program/words.ts'
import { answered } from '../../helpers/answered.ts'
import { DEG } from '../../helpers/degrees.ts'
import { plain } from '../../helpers/plain.ts'
import { bookOf, gravelPit } from '../../helpers/stations.ts'

const record = gravelPit()
const { site } = stationFromRecord(record)

type Fit = ProgramJson['fits'][number]
const fit = (cause: Fit['cause'], more: Partial<Fit> = {}): Fit => ({
  cause,
  clockS: null,
  leftDeg: 0.01,
  withoutRefraction: false,
  ...more,
})
const told = (verdict: ProgramJson['verdict'], fits: Fit[], telling: ProgramJson['telling'] = null): ProgramJson => ({
  verdict,
  fits,
  rows: [],
  telling,
})
const said = (t: ProgramJson) => programSaid(t, 9.3)

describe('a program’s clock', () => {
  it('that runs ahead is said to be ahead: it shows where the Moon will stand', () => {
    const shows = (laterS: number) => {
      const utc = '2026-05-01T21:30:00Z'
      const target: TargetRecord = { type: 'moon' }
      const shown = [0, 5400].map(s => {
        const at = Date.parse(utc) + 1000 * s
        const { az, el } = apparentPlace(target, at + 1000 * laterS, site, 'radio')
        return { utc: new Date(at).toISOString(), azDeg: az / DEG, elDeg: el / DEG }
      })
      const answer = answered(program(bookOf(record), { now: utc, target, shown }))
      return plain(programSaid(answer, 9.3).head)
    }
    expect(shows(200)).toBe('It looks like the clock: the program is 3 min 20 s ahead.')
    expect(shows(-200)).toBe('It looks like the clock: the program is 3 min 20 s behind.')
    expect(shows(-3600)).toBe('It looks like summer time: the program is an hour behind.')
  })
})

describe('what is said', () => {
  it('is good only where it agrees, and every cause says what to do', () => {
    for (const cause of [
      'clock',
      'summer-time',
      'longitude-sign',
      'geocentric',
      'refraction',
      'azimuth-from-south',
    ] as const) {
      const s = said(told(cause, [fit(cause, { clockS: 100 })]))
      expect([cause, s.state]).toEqual([cause, 'look-out'])
      expect(s.text.join(' ')).toMatch(/Set|set|Type|Look for|Switch/)
    }
    expect(said(told('agrees', [fit('agrees')])).state).toBe('good')
    expect(said(told('none', [])).head).toMatch(/none of the usual causes/)
  })

  it('names the longitude that the program has, and refraction where it is left out too', () => {
    const s = said(told('longitude-sign', [fit('longitude-sign', { withoutRefraction: true })]))
    expect(s.head).toMatch(/9\.30°\u00a0W/)
    expect(s.text.at(-1)).toMatch(/refraction out too/)
    expect(said(told('refraction', [fit('refraction', { withoutRefraction: true })])).text).toHaveLength(1)
  })

  it('of several causes names them with “or”, and the look that tells them apart', () => {
    const s = said(
      told('several', [fit('longitude-sign'), fit('summer-time', { clockS: -3600 })], {
        target: { type: 'moon' },
        utc: '2026-05-01T23:00:00Z',
        apartDeg: 0.83,
      }),
    )
    expect(s.head).toMatch(/the sign of the longitude .* or an hour of summer time, behind\.$/)
    expect(s.text[0]).toMatch(/for the Moon about 23:00.*0\.8° apart/)
  })
})

describe('the figures', () => {
  it('cost: a loss of own echoes within half a beamwidth, a miss beyond', () => {
    expect(placeCostWords(0.42, null)).toMatch(/would lose 0\.4\u00a0dB of own echoes\.$/)
    expect(placeCostWords(40, null)).toMatch(/would miss/)
  })

  it('readings differ one way or the other, or not at all', () => {
    expect(differWords(record.mount, 'lower', 1.24)).toBe('It shows 1.2° more.')
    expect(differWords(record.mount, 'lower', -1.24)).toBe('It shows 1.2° less.')
    expect(differWords(record.mount, 'lower', 0.01)).toBe('The same.')
  })
})

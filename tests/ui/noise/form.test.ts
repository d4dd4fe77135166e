import { describe, expect, it } from 'vitest'
import { noiseAnswer, noiseResult } from '../../../src/core/noise/noiseanswer.ts'
import type { FeedRecord, StationRecord } from '../../../src/core/records/fieldbook.ts'
import { checkFieldBook } from '../../../src/core/records/intake.ts'
import { emptyNoise, fluxFields, type NoiseForm, noiseFormOf, noiseFromForm } from '../../../src/ui/noise/form.ts'
import {
  lacksFlux,
  moonWarning,
  noiseExpectedSays,
  noiseRowWords,
  noiseSays,
  stepSays,
} from '../../../src/ui/noise/words.ts'
import { plain } from '../../helpers/plain.ts'
import { bareStation, smallBook } from '../../helpers/smallbook.ts'

const feed: FeedRecord = { id: 'a', name: 'ring', frequencyMHz: 1296 }
const station = (noise: unknown[] = []): StationRecord => ({
  ...bareStation('st'),
  dish: { diameterM: 2.4, focalRatio: 0.4 },
  feeds: [feed],
  noise,
})
const AT = Date.UTC(2026, 4, 1, 10)
const form = (change: Partial<NoiseForm>): NoiseForm => ({ ...emptyNoise(feed, AT), ...change })
const two = { rise: '8,2', low: '44', high: '57' }
const made = (change: Partial<NoiseForm>, el: number | null = 50) => noiseFromForm(form(change), feed, null, 'n', el)

describe('noiseFromForm', () => {
  it('is a legal record of the Sun with two published fluxes, and opens again as it was', () => {
    const ready = made({ ...two, zenith: '0.05', loss: '0,1', sigma: '0.2', note: ' calm ' })
    if (ready.kind !== 'ready') throw new Error(ready.why)
    expect(ready.record).toEqual({
      id: 'n',
      utc: '2026-05-01T10:00:00Z',
      feed: 'a',
      of: 'sun',
      yDb: 8.2,
      fluxAt: [
        { frequencyMHz: 610, sfu: 44 },
        { frequencyMHz: 1415, sfu: 57 },
      ],
      air: { zenithDb: 0.05, elDeg: 50 },
      lossDb: 0.1,
      sigmaDb: 0.2,
      note: 'calm',
    })
    expect(checkFieldBook({ ...smallBook(), stations: [station([ready.record])] })).toEqual([])
    const again = noiseFromForm(noiseFormOf(ready.record, feed), feed, ready.record, 'n', null)
    expect(again).toEqual(ready)
  })

  it('is kept without a flux, which is asked for later: left empty, or with 10.7 cm alone at hand', () => {
    for (const change of [{ fluxFrom: 'ten-cm' as const }, { low: '', high: '' }, { fluxFrom: 'own' as const }]) {
      const ready = made({ ...two, ...change })
      if (ready.kind !== 'ready') throw new Error(ready.why)
      expect(ready.record).not.toHaveProperty('fluxAt')
      expect(ready.record).not.toHaveProperty('fluxSfu')
      const [row] = noiseAnswer(station([ready.record])).rows
      expect(lacksFlux(row!.result)).toBe(true)
      expect(plain(noiseRowWords(row!).says)).toBe('flux missing: add it')
    }
  })

  it('says what is missing first', () => {
    expect(made({})).toEqual({ kind: 'not-yet', why: 'rise' })
    expect(made({ rise: '8', low: '44' })).toEqual({ kind: 'not-yet', why: 'two' })
    expect(made({ rise: '8', fluxFrom: 'own', sfu: 'much' })).toEqual({ kind: 'not-yet', why: 'sfu' })
    expect(made({ how: 'levels', unit: 'power', hot: '3', cold: '0' })).toEqual({ kind: 'not-yet', why: 'cold' })
    expect(made({ ...two, zenith: '0.1' }, null)).toEqual({ kind: 'not-yet', why: 'el' })
    expect(made({ ...two, zenith: '0.1' }, -3)).toEqual({ kind: 'not-yet', why: 'el' })
    expect(made({ ...two, utc: 'noon' })).toEqual({ kind: 'not-yet', why: 'time' })
    expect(made({ of: 'ground', rise: '7', hotK: '0' })).toEqual({ kind: 'not-yet', why: 'kelvin' })
  })

  it('keeps what another program wrote into the record, and drops what does not belong to the kind any more', () => {
    const old = {
      id: 'n',
      utc: '2026-05-01T10:00:00Z',
      feed: 'a',
      of: 'sun',
      yDb: 8,
      fluxSfu: 50,
      antenna: 'left',
    } as const
    const ready = noiseFromForm({ ...noiseFormOf(old, feed), of: 'ground' }, feed, old, 'n', null)
    if (ready.kind !== 'ready') throw new Error(ready.why)
    expect(ready.record).toEqual({ id: 'n', utc: old.utc, feed: 'a', of: 'ground', yDb: 8, antenna: 'left' })
  })

  it('asks for one flux where the feed’s frequency is itself published, and for its own beyond 15.4 GHz', () => {
    expect(fluxFields({ ...feed, frequencyMHz: 1415 })).toEqual([1415])
    expect(emptyNoise({ ...feed, frequencyMHz: 24048 }, AT).fluxFrom).toBe('own')
    const one = noiseFromForm(form({ rise: '8', low: '57' }), { ...feed, frequencyMHz: 1415 }, null, 'n', null)
    expect(one).toMatchObject({ kind: 'ready', record: { fluxAt: [{ frequencyMHz: 1415, sfu: 57 }] } })
  })
})

describe('the words of noise', () => {
  it('say G/T and system temperature with their ±, the Sun and the Moon to be heard, and the warning', () => {
    const record = { id: 'n', utc: '2026-05-01T10:00:00Z', feed: 'a', of: 'sun', yDb: 8.208, fluxSfu: 50 } as const
    expect(plain(noiseSays(noiseResult(station(), record, feed), 'sun'))).toMatch(
      /^G\/T is 8\.\d ± 0\.2 dB\/K\. With this gain the system temperature is 80 ± \d K\.$/,
    )
    const [e] = noiseAnswer(station([record])).expected
    expect(plain(noiseExpectedSays(e!)[0]!)).toContain(
      'expect Sun noise 8.2 dB above cold sky at 50 sfu (as last entered), Moon noise 0.04 dB',
    )
    expect(plain(moonWarning(e!)!)).toContain('too weak to point by: 0.04 dB, and 0.3 dB is needed')
  })

  it('say since when less is heard', () => {
    const rows = [8.2, 8.1, 8.2, 6.3].map((yDb, k) => ({
      id: `n${k}`,
      utc: `2026-05-0${k + 1}T10:00:00Z`,
      feed: 'a',
      of: 'sun',
      yDb,
      fluxSfu: 50,
    }))
    const [step] = noiseAnswer(station(rows)).steps
    expect(plain(stepSays(step!, 'ring'))).toMatch(
      /^Since 4 May 2026 G\/T through \u2068ring\u2069 is 2\.\d ± 0\.3 dB lower/,
    )
  })
})

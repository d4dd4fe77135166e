import { describe, expect, it } from 'vitest'
import type { StormCheckJson } from '../../../src/core/plan/stormjson.ts'
import type { MountKind, StationRecord } from '../../../src/core/records/fieldbook.ts'
import {
  changedBy,
  changedWords,
  foundWords,
  measurementWords,
  planSays,
  rivalWords,
  stepsCounted,
  stormCost,
  stormNext,
  stormSentence,
} from '../../../src/ui/storm/words.ts'
import { plain } from '../../helpers/plain.ts'

describe('after a storm', () => {
  const stationOf = (kind: MountKind): StationRecord =>
    ({
      site: { latDeg: 47, lonDeg: 9, heightM: 0 },
      mount: { kind },
      feeds: [],
      sightings: [],
    }) as unknown as StationRecord
  const sunPeak = {
    kind: 'sighting',
    target: 'sun',
    method: 'signal-peak',
    utc: '2026-05-12T10:00:00Z',
    azDeg: 150,
    elDeg: 50,
    lower: 20,
    upper: 300,
    sigmaDeg: 0.16,
  } as const
  const said: StormCheckJson = {
    verdict: 'moved',
    why: null,
    toleranceDeg: 0.78,
    atMostDeg: 2,
    weakest: 'upper-zero',
    standsOut: 3.4,
    explanations: [
      {
        kinds: ['upper-zero'],
        changed: [{ id: 'upperZero', change: 1.2, sigma: 0.3, unit: 'deg', counts: -23.4 }],
        skyDeg: 1.2,
        isSmall: false,
        leftChi2: 2,
        what: ['upper-zero'],
      },
    ],
    isExplained: true,
    odd: null,
    found: [],
    next: [],
    isEnough: false,
    sharper: null,
  }
  const rival = {
    kinds: ['mount'],
    changed: [{ id: 'heading', change: 1.3, sigma: 0.4, unit: 'deg', counts: null }],
    skyDeg: 1.3,
    isSmall: false,
    leftChi2: 3,
    what: ['lower-axis'],
  } as const satisfies StormCheckJson['explanations'][number]
  const station = stationOf('az-over-el')

  it('names what moved, by how much and what it costs; with rivals it is only the likeliest', () => {
    expect(stormSentence(station, said)).toBe('The clamp or counter of swing moved.')
    expect(plain(changedWords(station, said.explanations[0]!.changed[0]!, 'mm').value)).toBe(
      'too little by 1.2 ± 0.3°, 23 counts',
    )
    expect(plain(stormCost(said)!)).toBe('It costs up to 1.2° on 95 % of the Moon’s path; tolerance 0.78°.')
    expect(rivalWords(station, said)).toBeNull()
    const both = { ...said, explanations: [...said.explanations, rival], odd: 'x' }
    expect(stormSentence(station, both)).toBe('Something moved: most likely the clamp or counter of swing.')
    expect(rivalWords(station, both)).toBe(
      'Would also explain it: the mount on its base; or one of the sightings is wrong.',
    )
    expect(stormNext(said)).toMatch(/limit switch/)
    expect(stormSentence(station, { ...said, isExplained: false })).toMatch(/no one cause/)
    const small = { ...said, explanations: [{ ...said.explanations[0]!, isSmall: true, skyDeg: 0.3 }] }
    expect(plain(stormCost(small)!)).toContain('less than the tolerance of 0.78°')
  })

  it('says that nothing moved with what may still hide, and never gives the all-clear while it cannot tell', () => {
    const nothing: StormCheckJson = { ...said, verdict: 'nothing-moved', explanations: [], atMostDeg: 0.61 }
    expect(stormSentence(station, nothing)).toBe('Nothing moved. A move that matters would have shown.')
    expect(plain(stormCost(nothing)!)).toContain('less than 0.61° on 95 % of the Moon’s path; tolerance 0.78°')
    const open: StormCheckJson = { ...nothing, verdict: 'cannot-tell', why: 'unseen', weakest: 'mount' }
    expect(stormSentence(station, open)).toBe(
      'Cannot tell yet. Nothing shows so far, but the mount on its base could have moved by more than the tolerance.',
    )
    expect(stormCost(open)).toBeNull()
    expect(stormNext(open)).toMatch(/^This is not an all-clear/)
    for (const why of ['nothing-before', 'loose-before', 'odd-one', 'no-sky'] as const)
      expect(stormSentence(station, { ...open, why })).toMatch(/^Cannot tell/)
  })

  it('counts what would tell, and how many would do by equal levels', () => {
    const shadow = { ...sunPeak, method: 'shadow' as const }
    const level = { kind: 'level' as const, what: 'dish-elevation' as const, lower: 1, upper: 2, sigmaDeg: 0.2 }
    expect(plain(stepsCounted([sunPeak, sunPeak, shadow, level]))).toBe('2 Sun peaks, 1 shadow and 1 level')
    const step = measurementWords(sunPeak)
    expect([step.what, plain(step.value)]).toEqual([
      'Sun by strongest signal',
      expect.stringMatching(/^12 May 2026, 10:00.* ± 0\.16°$/),
    ])
    const open: StormCheckJson = { ...said, verdict: 'cannot-tell', why: 'unseen', next: [sunPeak, sunPeak] }
    expect(plain(planSays({ ...open, isEnough: true })!)).toBe('2 Sun peaks would be enough.')
    expect(plain(planSays({ ...open, sharper: { steps: 3, sigmaDeg: 0.09 } })!)).toBe(
      '2 Sun peaks in the next day and a half would help, but are not enough. With peaks by equal readings on both sides, ± 0.09°, 3 would do.',
    )
  })

  it('says where a target was found against before, and what does not fit', () => {
    const sighted = {
      ...station,
      sightings: [{ id: 'p', utc: '2026-05-12T10:00:00Z', target: { type: 'sun' }, method: 'signal-peak' }],
    } as unknown as StationRecord
    const miss = { rightDeg: 1.24, upDeg: 0, sigmaRightDeg: 0.3, sigmaUpDeg: 0.3 }
    const off = foundWords(sighted, { id: 'p', kind: 'sighting', chi2: 17, rows: 2, miss })
    expect([off.label, plain(off.value)]).toEqual(['Sun by strongest signal', '1.2° right, ± 0.30°'])
    const fits = foundWords(sighted, { id: 'p', kind: 'sighting', chi2: 2, rows: 2, miss })
    expect(plain(fits.value)).toBe('as before, ± 0.30°')
  })

  it('leads to the change that it would be', () => {
    expect(changedBy(said)).toEqual(['upper-zero'])
    expect(changedBy({ ...said, explanations: [] })).toEqual([])
  })
})

import { describe, expect, it } from 'vitest'
import type { MountKind } from '../../../src/core/records/fieldbook.ts'
import type { Solution, SolvedParameter } from '../../../src/core/records/solution.ts'
import { nothingWords } from '../../../src/ui/correct/drawnwords.ts'
import { directionText, foundRows, rangeText } from '../../../src/ui/correct/found.ts'
import { CORRECT, evidenceWords, onceIn, wrongValue } from '../../../src/ui/correct/words.ts'
import { NBSP } from '../../../src/ui/kit/format.ts'
import { weir } from '../../helpers/stations.ts'

const spaced = (text: string) => text.replaceAll(NBSP, ' ')
const turned = ['anticlockwise', 'clockwise'] as const

const station = weir
const row = (p: Partial<SolvedParameter> & Pick<SolvedParameter, 'id'>, kind: MountKind, latDeg = 50, inch = false) => {
  const parameter = {
    label: '',
    value: 1.28,
    sigma: 0.6,
    unit: 'deg',
    prior: { value: 0, sigma: 5 },
    state: 'settled',
    ...p,
  }
  const found = foundRows({ parameters: [parameter] } as Solution, station(kind, latDeg), inch ? 'in' : 'mm')[0]!
  return { ...found, value: spaced(found.value), says: spaced(found.says) }
}

describe('foundRows', () => {
  it('tells how it stands, and advises the opposite: anticlockwise found, clockwise advised', () => {
    expect(row({ id: 'heading', value: -1.28 }, 'az-over-el')).toMatchObject({
      value: 'anticlockwise 1.3 ± 0.6°',
      says: 'Turn the whole mount 1.3 ± 0.6° clockwise, seen from above.',
      group: 'turn',
    })
    expect(row({ id: 'level', value: 0.54, sigma: 0.2 }, 'az-over-el')).toMatchObject({
      value: 'high 0.5 ± 0.2°',
      says: 'Raise the left-hand end of the tilt axis by 0.5 ± 0.2°, as seen from behind the mount.',
    })
    expect(row({ id: 'feedRight', feed: 'a', value: 12.3, sigma: 2, unit: 'mm' }, 'az-over-el')).toMatchObject({
      value: 'right 12 ± 2 mm',
      says: 'Move the feed left 12 ± 2 mm, as seen from behind.',
    })
  })

  it('speaks of the end of a polar axis that points up: the same numbers mean the other way in the south', () => {
    expect(row({ id: 'poleUp' }, 'ha-dec', 50)).toMatchObject({
      value: 'high 1.3 ± 0.6°',
      says: 'Lower the upper end of the polar axis by 1.3 ± 0.6°.',
    })
    expect(row({ id: 'poleUp' }, 'ha-dec', -35)).toMatchObject({
      value: 'low 1.3 ± 0.6°',
      says: 'Raise the upper end of the polar axis by 1.3 ± 0.6°.',
    })
    expect(row({ id: 'poleEast' }, 'ha-dec', -35).value).toBe('west 1.3 ± 0.6°')
    expect(row({ id: 'poleEast' }, 'ha-dec', -35).says).toMatch(
      /1\.3 ± 0\.6° toward the east\. Or turn its whole foot 1\.6 /,
    )
  })

  it('shows an open one as a range, without a ±, and turns nothing for it', () => {
    expect(row({ id: 'heading', value: -1.28, state: 'open' }, 'az-over-el')).toMatchObject({
      value: 'between 0.1 and 2.5° anticlockwise',
      says: 'Turn nothing for this yet.',
      group: 'open',
    })
  })

  it('shows a scale in per cent and a feed in inches where inches are wanted', () => {
    expect(row({ id: 'lowerScale', value: 0.012, sigma: 0.003, unit: 'ratio' }, 'az-over-el').value).toBe(
      'more than read 1.2 ± 0.3 %',
    )
    expect(row({ id: 'feedRight', feed: 'a', value: -12, sigma: 2, unit: 'mm' }, 'x-y', 50, true)).toMatchObject({
      value: 'left 0.47 ± 0.08 in',
      says: 'Move the feed right 0.47 ± 0.08 in, as seen from behind.',
    })
  })
})

describe('rangeText', () => {
  it('reaches two σ either way, each end with its own direction', () => {
    expect(spaced(rangeText(0.5, 1, turned, '°'))).toBe('between 1.5° anticlockwise and 2.5° clockwise')
    expect(spaced(rangeText(5, 1, turned, '°'))).toBe('between 3.0 and 7.0° clockwise')
  })

  it('a heading known to 180° is anything', () => {
    expect(rangeText(0, 180, turned, '°')).toBe('anything')
  })
})

describe('directionText', () => {
  it('gives no direction to what rounds to nothing', () => {
    expect(spaced(directionText(0.02, 0.3, turned, '°'))).toBe('0.0 ± 0.3°')
  })
})

describe('evidenceWords', () => {
  it('24 in χ² is about once in a million by chance, and once in 30 000 when 32 places were looked at', () => {
    // Two-sided normal tail at √24 = 4.9 σ: 9.6e-7.
    expect(spaced(evidenceWords(24, 9.6e-7, 1))).toBe(
      'With it the misfit falls by 24 (χ²): chance alone does that about once in 1 million.',
    )
    expect(spaced(evidenceWords(24, 32 * 9.6e-7, 32))).toContain('once in 30 000, counting all 32 places tried')
  })

  it('says so where chance easily does as much, and does not pretend to more than a billion', () => {
    expect(evidenceWords(2, 0.16, 1)).toContain('chance easily does as much')
    expect(onceIn(1e-12)).toBe('more than a billion')
    expect(onceIn(0)).toBe('more than a billion')
  })
})

describe('what is said where nothing contradicts it', () => {
  it('nothing to turn names what is still open, at most three; for good only where nothing is', () => {
    expect(nothingWords([])).toBe('Nothing is so far off that a spanner would help.')
    expect(nothingWords(['heading', 'tilt zero'])).toBe('Nothing is surely off yet. Still open: heading and tilt zero.')
    expect(nothingWords(['a', 'b', 'c', 'd', 'e'])).toMatch(/a, b, c and 2 more\.$/)
  })
  it('two sightings set aside are not “nothing”', () => {
    expect(wrongValue(0, { used: 6, outliers: 0 })).toBe('nothing')
    expect(wrongValue(0, { used: 0, outliers: 0 })).toBe('not known yet')
    expect(wrongValue(0, { used: 6, outliers: 2 })).toBe('2 set aside')
    expect(wrongValue(1, { used: 6, outliers: 2 })).toBe('1 found')
  })
  it('no rule says that so many sightings tell everything', () => {
    expect(CORRECT.noSightingsWhy).toContain('leave open')
  })
})

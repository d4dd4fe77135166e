import { describe, expect, it } from 'vitest'
import type { MeasuredRow, Report } from '../../../src/core/export/report.ts'
import { report } from '../../../src/core/questions.ts'
import {
  factsOf,
  measuredFact,
  measuredTold,
  reportLeftWords,
  statesTold,
  typeSize,
  usedWords,
} from '../../../src/ui/correct/reportwords.ts'
import { answered } from '../../helpers/answered.ts'
import { plain } from '../../helpers/plain.ts'
import { bookOf, gravelPit } from '../../helpers/stations.ts'

const bare = answered(report(bookOf(gravelPit()), { now: '2026-05-25T12:00:00Z' }))
const sigmaDeg = { least: 0.2, most: 0.5 }
const sighted: MeasuredRow = {
  of: 'sightings',
  method: 'signal-peak',
  count: 14,
  used: 11,
  aside: 2,
  excluded: 1,
  sun: 9,
  moon: 4,
  sigmaDeg,
}
const measured: Report = {
  ...bare,
  measured: [
    sighted,
    { of: 'levels', what: 'mast-lean', count: 1, sigmaDeg: { least: 0.1, most: 0.1 } },
    { of: 'references', count: 2 },
  ],
  measuredUtc: { from: '2026-05-01T10:00:00Z', to: '2026-05-20T10:00:00Z' },
}

describe('what was measured', () => {
  it('is counted in the head: sightings, and what was done at the mount', () => {
    expect(plain(measuredTold(measured))).toBe('Measured, 1 May 2026 to 20 May 2026: 14 sightings, 3 at the mount')
    expect(plain(measuredTold({ ...measured, measured: [sighted] }))).toMatch(/: 14 sightings$/)
    expect(measuredTold(bare)).toBe('Measured: Nothing yet.')
  })

  it('is told row by row, nothing said of what there is none of', () => {
    expect(plain(measuredFact(sighted, bare).value)).toBe(
      '11 of 14 used, 2 set aside, 1 left out; Sun 9, Moon 4, others 1; ± 0.20° to 0.50°',
    )
    const good = { ...sighted, count: 5, used: 5, aside: 0, excluded: 0, sun: 5, moon: 0, sigmaDeg: null }
    expect(measuredFact(good, bare).value).toBe('5 of 5 used; Sun 5')
    expect(measured.measured.slice(1).map(row => plain(measuredFact(row, bare).value))).toEqual([
      '1; ± 0.10°',
      '2 readings',
    ])
  })
})

describe('what was found', () => {
  it('is counted by how well it is known', () => {
    expect(statesTold([{ state: 'open' }, { state: 'settled' }, { state: 'open' }])).toBe(
      '1 known well enough, 2 not known yet',
    )
    expect(usedWords({ ...bare.solution.fit, used: 12, outliers: 1 })).toBe('12 used, 1 set aside')
    expect(usedWords({ ...bare.solution.fit, used: 12, outliers: 0 })).toBe('12 used')
  })

  it('leaves nothing to say before anything was used, and says where the Moon is never reached', () => {
    expect(reportLeftWords(bare)).toEqual([])
    const { solution } = bare
    const sky = { ...solution.sky, hours: 0 }
    expect(
      reportLeftWords({ ...bare, solution: { ...solution, sky, fit: { ...solution.fit, used: 4 } } }),
    ).toHaveLength(1)
  })
})

it('the facts say what was carried over, and that something changed since', () => {
  const program = (carried: Report['carried']) =>
    factsOf({ ...bare, carried }, '9.9.9').find(fact => fact.what === 'Program')!.value
  const utc = '2026-05-20T10:00:00Z'
  expect(program(null)).toBe('carrying over not noted')
  expect(plain(program({ utc, isAltered: false } as Report['carried']))).toBe('numbers carried over 20 May 2026')
  expect(program({ utc, isAltered: true } as Report['carried'])).toMatch(/, before the last change$/)
})

it('the type of the printed page shrinks with what stands on it, and stays readable', () => {
  expect([100, 3000, 4000, 1e6].map(typeSize)).toEqual(['8.40pt', '8.40pt', '7.27pt', '6.20pt'])
})

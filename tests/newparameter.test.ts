/** What one more entry in the table of parameters brings: it is found everywhere, without another line of code. */
import { describe, expect, it, vi } from 'vitest'
import { adviceFor } from '../src/core/export/advice.ts'
import { carriedOverChange, judged } from '../src/core/level/carryover.ts'
import type { ParameterEntry } from '../src/core/mount/parameterentry.ts'
import { labelOf, PARAMETER_IDS, type ParameterId, unitOf } from '../src/core/mount/parameters.ts'
import { SLOT, SLOTS, slotOf } from '../src/core/mount/slots.ts'
import { solve } from '../src/core/questions.ts'
import type { StationRecord } from '../src/core/records/fieldbook.ts'
import { checkFieldBook } from '../src/core/records/intake.ts'
import { idsOfTruth } from '../src/core/rehearse/faults.ts'
import { worldOf } from '../src/core/rehearse/world.ts'
import { expectedValueWords, unknownLabel } from '../src/ui/change/words.ts'
import { shortName } from '../src/ui/correct/drawnwords.ts'
import { foundRows } from '../src/ui/correct/found.ts'
import { knowable } from '../src/ui/station/fields.ts'
import { priorWords } from '../src/ui/station/words.ts'
import { KINDS } from './core/mount/sample.ts'
import { answered } from './helpers/answered.ts'
import { smallBook } from './helpers/smallbook.ts'

vi.mock('../src/core/mount/parametertable.ts', async original => {
  const table = await original<typeof import('../src/core/mount/parametertable.ts')>()
  const twist: ParameterEntry = {
    id: 'twist',
    slot: 'twist',
    unit: 'deg',
    family: 'dish',
    sigma: ({ kind }) => (kind === 'x-y' ? 0.2 : 0.4),
    most: 30,
    renewedBy: ['dish'],
    judged: true,
    label: 'dish twisted clockwise',
    what: 'Dish twisted',
    short: 'dish twist',
    senses: ['anticlockwise', 'clockwise'],
    back: [
      { part: 'dish', toward: 'left' },
      { part: 'dish', toward: 'right' },
    ],
  }
  return { ...table, PARAMETERS: [...table.PARAMETERS, twist] }
})

const TWIST = 'twist' as ParameterId
const NOW = '2026-06-01T00:00:00Z'
const station = (more: Partial<StationRecord> = {}): StationRecord => ({ ...smallBook().stations[0], ...more })
const book = (of: StationRecord) => ({ ...smallBook(), stations: [of] })
const rulesOf = (of: StationRecord) => checkFieldBook(book(of)).map(fault => fault.rule)

describe('a new entry of the table', () => {
  it('has a slot of its own on every kind of mount, before those of the counters that slipped', () => {
    expect(PARAMETER_IDS).toContain(TWIST)
    for (const kind of KINDS) expect(slotOf(TWIST, kind)).toBe(22)
    expect([SLOT.lowerShift, SLOT.upperShift, SLOTS]).toEqual([23, 24, 25])
    expect(unitOf(TWIST)).toBe('deg')
  })

  it('may have a prior in the file, within its own bound of 30°, and none of a feed', () => {
    expect(rulesOf(station({ priors: [{ id: 'twist', value: 1, sigma: 0.1 }] }))).toEqual([])
    expect(rulesOf(station({ priors: [{ id: 'twist', value: 31, sigma: 0.1 }] }))).toEqual([
      'value of twist must be from -30 to 30 degrees, got 31',
    ])
    expect(rulesOf(station({ priors: [{ id: 'twist:a', value: 1, sigma: 0.1 }] }))).toEqual([
      'twist belongs to the mount and not to a feed',
    ])
  })

  it('is solved for, told with its words and its prior, and advised about', () => {
    const solved = answered(solve(book(station()), { now: NOW }))
    const p = solved.parameters.find(q => q.id === TWIST)!
    expect(p).toMatchObject({ label: 'dish twisted clockwise', unit: 'deg', prior: { value: 0, sigma: 0.4 } })
    const row = foundRows(solved, station(), 'mm').find(r => r.key.startsWith('twist'))!
    expect(row.what).toBe('Dish twisted')
    expect(shortName(TWIST, station().mount, p.label)).toBe('dish twist')
    const moved = adviceFor({ ...p, value: 2, sigma: 0.1, state: 'settled' }, { kind: 'az-over-el', latDeg: 47 })
    expect(moved).toMatchObject({ kind: 'move', part: 'dish', toward: 'left', size: 2, unit: 'deg' })
  })

  it('starts anew with a change of the dish and stays with one of the feed; a person may say by how much', () => {
    const ids = (list: { id: string }[]) => list.map(p => p.id)
    const { anew } = carriedOverChange(station(), ['dish'])
    expect(ids(anew)).toContain('twist')
    expect(ids(judged(anew))).toContain('twist')
    expect(ids(carriedOverChange(station(), ['feed:a']).stays)).toContain('twist')
    expect(unknownLabel(station(), 'twist')).toBe('Dish twisted clockwise')
    expect(expectedValueWords({ id: 'twist', value: 2, sigma: 0.5 })).toBe('2.0 ± 0.5°'.replaceAll(' ', '\u00a0'))
  })

  it('can be known beforehand in the form of a station, in its words', () => {
    expect(knowable('x-y', { lower: 'degrees', upper: 'degrees' }, [{ id: 'a' }])).toContain('twist')
    expect(priorWords('twist', 'x-y', 47, [])).toBe('dish twisted clockwise')
    expect(labelOf(TWIST, { kind: 'x-y', latitude: 1 })).toBe('dish twisted clockwise')
  })

  it('is drawn for the dish of a rehearsal, last, and its prior is the table’s', () => {
    const { paper, faults } = worldOf({ seed: 2, difficulty: 'ordinary', kind: 'x-y', startUtc: NOW })
    expect(idsOfTruth(paper).at(-1)).toBe('twist')
    const drawn = faults.truths[0]!.truth.twist!
    expect(drawn).not.toBe(0)
    expect(Math.abs(drawn)).toBeLessThanOrEqual(0.2)
  })
})

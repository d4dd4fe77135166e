import { describe, expect, it } from 'vitest'
import { checkRecord } from '../../../src/core/records/checkrecord.ts'
import type { StationRecord } from '../../../src/core/records/fieldbook.ts'
import { checkFieldBook } from '../../../src/core/records/intake.ts'
import { ANY_LISTS } from '../../../src/core/records/kinds.ts'
import { smallBook } from '../../helpers/smallbook.ts'
import { someOf } from '../../helpers/some.ts'
import { writtenBook } from '../../helpers/writtenbook.ts'

const station = (): StationRecord => smallBook().stations[0]
const utc = '2026-05-02T09:00:00Z'
const mark = { id: 'm', utc, axis: 'upper', mark: 'inner stop', reading: 3 }

describe('checkRecord', () => {
  it('passes every record of a sound book in its own place', () => {
    const [whole] = writtenBook().stations
    for (const list of ANY_LISTS)
      for (const record of someOf<unknown>(whole[list] ?? []))
        expect([list, checkRecord(list, record, whole)]).toEqual([list, []])
  })

  it('names the rule that a record breaks by its field: a reading of 5000 counts is outside the jack', () => {
    expect(checkRecord('references', mark, station())).toEqual([])
    const faults = checkRecord('references', { ...mark, reading: 5000 }, station())
    expect(faults.map(f => f.path)).toEqual(['reading'])
    expect(faults[0]!.rule).toContain('outside the jack')
  })

  it('names the record itself by an empty path', () => {
    expect(checkRecord('references', 5, station()).map(f => f.path)).toEqual([''])
  })

  it('is silent about what is wrong elsewhere', () => {
    const broken = { ...station(), sightings: [{ id: 'x' }], levels: 'none' } as unknown as StationRecord
    expect(checkRecord('references', mark, broken)).toEqual([])
  })

  it('lets a record take the place of its older self, and refuses the id of another record and of the station', () => {
    const again = { ...station().references![0]!, reading: 4 }
    expect(checkRecord('references', again, station())).toEqual([])
    for (const id of [station().changes![0]!.id, station().id])
      expect(checkRecord('references', { ...again, id }, station()).map(f => f.path)).toEqual(['id'])
  })

  it('lets a feed be called as a sighting is, and two priors by one parameter', () => {
    const [feed] = station().feeds
    expect(checkRecord('feeds', { ...feed, id: station().sightings[0]!.id }, station())).toEqual([])
    expect(checkRecord('priors', { id: 'sag', value: 0, sigma: 1 }, station())).toEqual([])
  })

  it('finds numbers that are not finite and brackets without end also where the program knows nothing', () => {
    let deep: unknown = 0
    for (let i = 0; i < 200; i += 1) deep = [deep]
    expect(checkRecord('references', { ...mark, mine: { n: Infinity } }, station()).map(f => f.path)).toEqual([
      'mine.n',
    ])
    expect(checkRecord('references', { ...mark, deep }, station())[0]!.rule).toMatch(/nested deeper/)
  })

  it('says of each list what the intake says of the whole book', () => {
    for (const list of ANY_LISTS) {
      const at = station() as unknown as Record<string, unknown[]>
      const n = at[list]?.length ?? 0
      for (const record of [7, {}, { id: '' }, { id: 'new', utc: 'yesterday' }]) {
        const whole = { ...smallBook(), stations: [{ ...at, [list]: [...(at[list] ?? []), record] }] }
        const own = `stations[0].${list}[${n}]`
        const said = checkFieldBook(whole).filter(f => f.path.startsWith(own))
        expect(checkRecord(list, record, station()).map(f => f.path)).toEqual(
          said.map(f => f.path.slice(own.length).replace(/^\./, '')),
        )
      }
    }
  })
})

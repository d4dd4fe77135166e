import { describe, expect, it } from 'vitest'
import { faultsWith } from '../../../src/core/level/candidate.ts'
import type { StationRecord } from '../../../src/core/records/fieldbook.ts'
import { smallBook } from '../../helpers/smallbook.ts'

const station = (): StationRecord => smallBook().stations[0]
const utc = '2026-05-02T09:00:00Z'

describe('faultsWith', () => {
  it('passes a legal mark and names the rule that an illegal one breaks, by its field', () => {
    const mark = { id: 'm', utc, axis: 'upper', mark: 'inner stop', reading: 3 }
    expect(faultsWith(station(), 'references', mark)).toEqual([])
    const faults = faultsWith(station(), 'references', { ...mark, reading: 5000 } as typeof mark)
    expect(faults.map(f => f.path)).toEqual(['reading'])
    expect(faults[0]!.rule).toContain('outside the jack')
  })
  it('is silent about what was wrong before and elsewhere', () => {
    const broken = { ...station(), sightings: [{ id: 'x' }] } as unknown as StationRecord
    expect(faultsWith(broken, 'references', { id: 'm', utc, axis: 'upper', mark: 'a', reading: 3 } as never)).toEqual(
      [],
    )
  })
  it('lets a record take the place of its older self, and refuses the id of another record', () => {
    const again = { ...station().references![0]!, reading: 4 }
    expect(faultsWith(station(), 'references', again)).toEqual([])
    const stolen = { ...again, id: station().changes![0]!.id }
    expect(faultsWith(station(), 'references', stolen).map(f => f.path)).toEqual(['id'])
  })
})

import { describe, expect, it } from 'vitest'
import {
  carriedOverChange,
  judged,
  movedBy,
  setupStart,
  stationBefore,
  type Unknown,
} from '../../../src/core/level/carryover.ts'
import type { MountKind, StationRecord } from '../../../src/core/records/fieldbook.ts'
import { smallBook } from '../../helpers/smallbook.ts'

function station(kind: MountKind = 'az-over-el'): StationRecord {
  const record = smallBook().stations[0] as StationRecord
  return { ...record, mount: { ...record.mount, kind }, priors: [] }
}
const names = (list: Unknown[]) => list.map(p => (p.feed === null ? p.id : `${p.id}:${p.feed}`))

describe('carriedOverChange', () => {
  it('of a base that was turned: heading and level start anew, five sightings; zeros, dish and feeds stay', () => {
    const c = carriedOverChange(station(), ['lower-axis'])
    expect(names(c.anew)).toEqual(['heading', 'level'])
    expect(names(c.stays)).toEqual(expect.arrayContaining(['lowerZero', 'upperZero', 'collimation', 'feedRight:a']))
    expect(c.sightingsNeeded).toBe(5)
  })
  it('says the lean of an azimuth mount and the pole of a polar one', () => {
    expect(names(carriedOverChange(station('el-over-az'), ['lower-axis']).anew)).toEqual(['leanNorth', 'leanEast'])
    expect(names(carriedOverChange(station('ha-dec'), ['lower-axis']).anew)).toEqual(['poleEast', 'poleUp'])
  })
  it('of a counter: its zero alone; of another jack: zero and arms', () => {
    expect(names(carriedOverChange(station(), ['upper-zero']).anew)).toEqual(['upperZero'])
    expect(names(carriedOverChange(station(), ['upper-readout']).anew)).toEqual([
      'upperZero',
      'upperBaseArm',
      'upperRodArm',
    ])
    expect(names(carriedOverChange(station(), ['lower-readout']).anew)).toEqual(['lowerZero', 'lowerScale'])
  })
  it('of one feed: not the other', () => {
    const anew = names(carriedOverChange(station(), ['feed:a']).anew)
    expect(anew).toEqual(['feedRight:a', 'feedUp:a', 'feedDroop:a', 'squintRight:a', 'squintUp:a'])
  })
  it('of everything: nothing stays', () => {
    expect(carriedOverChange(station(), ['all']).stays).toEqual([])
  })
  it('of a tube that no sighting used: nothing is new and no sighting is needed', () => {
    const bare = { ...station(), sightings: [] }
    expect(carriedOverChange(bare, ['tube'])).toMatchObject({ anew: [], sightingsNeeded: 0 })
  })
  it('asks for one sighting when what is expected leaves the beam within half the tolerance', () => {
    // Of the two feeds the narrower beam counts, 2.0° at 0.5 dB: tolerance 0.29°, half of it 0.14°.
    const sure = [
      { id: 'heading', value: 2, sigma: 0.1 },
      { id: 'level', value: 0, sigma: 0.1 },
    ]
    expect(carriedOverChange(station(), ['lower-axis'], sure).sightingsNeeded).toBe(1)
    expect(carriedOverChange(station(), ['lower-axis'], sure.slice(0, 1)).sightingsNeeded).toBe(5)
  })
  it('does not depend on the changes before', () => {
    const other = { ...station(), changes: [{ id: 'x', utc: '2020-01-01T00:00:00Z', what: ['all'] }] }
    expect(carriedOverChange(other, ['dish'])).toEqual(carriedOverChange(station(), ['dish']))
  })
})

describe('judged', () => {
  it('is heading and level of a base, not the squint of a feed', () => {
    expect(names(judged(carriedOverChange(station(), ['lower-axis']).anew))).toEqual(['heading', 'level'])
    expect(names(judged(carriedOverChange(station(), ['feed:a']).anew))).toEqual(['feedRight:a', 'feedUp:a'])
  })
})

describe('movedBy', () => {
  it('adds the values and the σ in quadrature: 1.2 ± 0.3 turned by 2 ± 0.4 is 3.2 ± 0.5', () => {
    const after = movedBy({ value: 1.2, sigma: 0.3 }, { value: 2, sigma: 0.4 })
    expect(after.value).toBeCloseTo(3.2, 12)
    expect(after.sigma).toBeCloseTo(0.5, 12)
  })
})

describe('stationBefore', () => {
  it('holds only what is older than the instant, without the change in question', () => {
    const record = station()
    expect(stationBefore(record, '2026-04-27T20:14:05Z').sightings).toEqual([])
    expect(stationBefore(record, '2026-04-27T20:14:06Z').sightings.length).toBeGreaterThan(0)
    expect(stationBefore(record, '2030-01-01T00:00:00Z').changes).toHaveLength(1)
    expect(stationBefore(record, '2030-01-01T00:00:00Z', 'ch-1').changes).toEqual([])
  })
})

describe('setupStart', () => {
  it('is the last change that has happened; none before the first', () => {
    const record = station()
    expect(setupStart(record, Date.parse('2026-04-28T07:59:59Z'))).toBeNull()
    expect(setupStart(record, Date.parse('2026-04-28T08:00:00Z'))?.utc).toBe('2026-04-28T08:00:00Z')
  })
})

import { describe, expect, it } from 'vitest'
import { isFitted } from '../../../src/core/fit/observations.ts'
import { isLevelFitted, type LevelWhat, levelKinds } from '../../../src/core/level/kinds.ts'
import type { LevelRecord, MountKind } from '../../../src/core/records/fieldbook.ts'
import { stationFromRecord } from '../../../src/core/records/station.ts'
import { smallBook } from '../../helpers/smallbook.ts'

const MOUNTS: MountKind[] = ['el-over-az', 'ha-dec', 'az-over-el', 'x-y']
const WHATS: LevelWhat[] = ['lower-axis-elevation', 'upper-axis-elevation', 'mast-lean', 'dish-elevation']

describe('levelKinds', () => {
  it('has no elevation of a lower axis that stands upright', () => {
    expect(levelKinds('el-over-az')).not.toContain('lower-axis-elevation')
    for (const mount of MOUNTS.slice(1)) expect(levelKinds(mount)).toHaveLength(4)
  })
})

describe('isLevelFitted', () => {
  it('says the same as the fit, on all four mounts', () => {
    for (const kind of MOUNTS) {
      const record = smallBook().stations[0]
      record.mount.kind = kind
      const station = stationFromRecord(record)
      for (const what of WHATS)
        expect([kind, what, isLevelFitted(kind, what)]).toEqual([
          kind,
          what,
          isFitted(station, { what } as LevelRecord),
        ])
    }
  })
})

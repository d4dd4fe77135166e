import { describe, expect, it } from 'vitest'
import { MOUNT_KINDS } from '../../../src/core/mount/names.ts'
import { isLevelFitted, type LevelWhat, levelKinds } from '../../../src/core/records/levelkinds.ts'

const WHATS: LevelWhat[] = ['lower-axis-elevation', 'upper-axis-elevation', 'mast-lean', 'dish-elevation']

describe('levelKinds', () => {
  it('has no elevation of a lower axis that stands upright', () => {
    expect(levelKinds('el-over-az')).not.toContain('lower-axis-elevation')
    for (const mount of MOUNT_KINDS.slice(1)) expect(levelKinds(mount)).toHaveLength(4)
  })
})

describe('isLevelFitted', () => {
  it('takes the lean of a mast where the mast is the lower axis, and no elevation of an axis that stands upright', () => {
    const left = MOUNT_KINDS.flatMap(kind =>
      WHATS.filter(what => !isLevelFitted(kind, what)).map(what => `${kind} ${what}`),
    )
    expect(left).toEqual([
      'el-over-az lower-axis-elevation',
      'ha-dec mast-lean',
      'az-over-el mast-lean',
      'x-y mast-lean',
    ])
  })
})

import { describe, expect, it } from 'vitest'
import { idsOfTruth } from '../../../src/core/rehearse/faults.ts'
import type { Paper } from '../../../src/core/rehearse/mount.ts'

type Type = 'degrees' | 'counts' | 'jack'
const paper = (kind: string, lower: Type, upper: Type, feeds: readonly string[]): Paper =>
  ({
    mount: { kind, lower: { readout: { type: lower } }, upper: { readout: { type: upper } } },
    feeds: feeds.map(id => ({ id })),
  }) as unknown as Paper

describe('idsOfTruth', () => {
  // A seed draws in this order: another one would be another dish for everybody in the middle of a rehearsal.
  it('stays in the order in which dishes have been drawn', () => {
    expect(idsOfTruth(paper('ha-dec', 'jack', 'degrees', ['a', 'b']))).toEqual([
      'poleEast',
      'poleUp',
      'lowerZero',
      'upperZero',
      'lowerBaseArm',
      'lowerRodArm',
      'upperScale',
      'squareness',
      'collimation',
      'sag',
      ...['a', 'b'].flatMap(feed =>
        ['feedRight', 'feedUp', 'feedDroop', 'squintRight', 'squintUp'].map(id => `${id}:${feed}`),
      ),
      'tubeRight',
      'tubeUp',
      'lowerPlay',
      'upperPlay',
    ])
    expect(idsOfTruth(paper('x-y', 'counts', 'jack', [])).slice(0, 7)).toEqual([
      'heading',
      'level',
      'lowerZero',
      'upperZero',
      'lowerScale',
      'upperBaseArm',
      'upperRodArm',
    ])
  })
})

/** The default priors of the table of parameters, written out once more, for every kind of mount and readout. */
import { describe, expect, it } from 'vitest'
import { PARAMETER_IDS, type ParameterId, priorSigma } from '../../../src/core/mount/parameters.ts'
import type { Readout } from '../../../src/core/readout/readout.ts'
import { KINDS } from '../../helpers/simulate.ts'

const ANGLES = { leanNorth: 5, leanEast: 5, poleEast: 5, poleUp: 5, level: 3, heading: 180 }
const ARMS = { lowerBaseArm: 5, lowerRodArm: 5, upperBaseArm: 5, upperRodArm: 5 }
const DISH = { squareness: 0.5, sag: 0.3, tubeRight: 0.7, tubeUp: 0.7, lowerPlay: 0.5, upperPlay: 0.5 }
const FEED = { feedRight: 10, feedUp: 10, feedDroop: 3, squintRight: 0.2, squintUp: 0.2 }

describe('priorSigma', () => {
  it('is what is known of a mount that nobody has measured: degrees, ratios, millimetres', () => {
    for (const kind of KINDS)
      for (const type of ['degrees', 'linear-counts', 'jack'] as Readout['type'][]) {
        const mount = { kind, lower: { readout: { type } }, upper: { readout: { type } } }
        const zero = type === 'degrees' ? 10 : 30
        const scale = type === 'degrees' ? 0.02 : type === 'linear-counts' ? 0.1 : 0
        const stated: Record<string, number> = {
          ...ANGLES,
          ...ARMS,
          ...DISH,
          ...FEED,
          lowerZero: kind === 'el-over-az' ? 180 : zero,
          upperZero: zero,
          lowerScale: scale,
          upperScale: scale,
          collimation: kind === 'az-over-el' ? 1.5 : 0.5,
        }
        const table = Object.fromEntries(PARAMETER_IDS.map((id: ParameterId) => [id, priorSigma(id, mount)]))
        for (const [id, sigma] of Object.entries(stated))
          expect([kind, type, id, table[id]]).toEqual([kind, type, id, sigma])
        expect(PARAMETER_IDS.filter(id => !(id in stated))).toEqual([])
      }
  })
})

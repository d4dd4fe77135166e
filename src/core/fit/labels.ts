/** The parameters in plain words, by the mount that they belong to. */
import type { Mount } from '../mount/kinds.ts'
import type { ParameterId } from '../records/fieldbook.ts'

/** What an axis is called on each mount. */
export const AXIS_NAMES = {
  'el-over-az': { lower: 'azimuth', upper: 'elevation' },
  'ha-dec': { lower: 'hour angle', upper: 'declination' },
  'az-over-el': { lower: 'tilt', upper: 'swing' },
  'x-y': { lower: 'X', upper: 'Y' },
} as const

/** One line, without a full stop; the sense of + is in it. */
export function labelOf(id: ParameterId, mount: Pick<Mount, 'kind' | 'latitude'>): string {
  const axes = AXIS_NAMES[mount.kind]
  const isSouth = mount.latitude < 0
  switch (id) {
    case 'leanNorth':
      return 'azimuth axis leans toward north'
    case 'leanEast':
      return 'azimuth axis leans toward east'
    case 'poleEast':
      // In the south the north-pole end points into the ground: what is seen is the other end, the other way.
      return isSouth ? 'polar axis, upper end stands too far west' : 'polar axis, upper end stands too far east'
    case 'poleUp':
      return isSouth ? 'polar axis, upper end stands too low' : 'polar axis, upper end stands too high'
    case 'heading':
      return 'mount turned clockwise, seen from above'
    case 'level':
      return mount.kind === 'x-y' ? 'X axis, forward end stands too high' : 'tilt axis, right-hand end stands too high'
    case 'lowerZero':
      return `${axes.lower} zero: true angle larger than read`
    case 'upperZero':
      return `${axes.upper} zero: true angle larger than read`
    case 'lowerScale':
      return `${axes.lower} scale: turns more than read`
    case 'upperScale':
      return `${axes.upper} scale: turns more than read`
    case 'lowerBaseArm':
      return `${axes.lower} jack, fixed arm longer than taped`
    case 'lowerRodArm':
      return `${axes.lower} jack, rod arm longer than taped`
    case 'upperBaseArm':
      return `${axes.upper} jack, fixed arm longer than taped`
    case 'upperRodArm':
      return `${axes.upper} jack, rod arm longer than taped`
    case 'squareness':
      return `${axes.upper} axis leans toward the ${mount.kind === 'ha-dec' ? 'polar' : axes.lower} axis`
    case 'collimation':
      return mount.kind === 'el-over-az'
        ? 'dish looks to the right of square'
        : mount.kind === 'az-over-el'
          ? 'dish offset larger than on paper'
          : mount.kind === 'ha-dec'
            ? 'dish looks to the west of square'
            : 'dish looks to the right of square'
    case 'sag':
      return 'dish droops, at the horizon'
    case 'feedRight':
      return 'feed sits to the right'
    case 'feedUp':
      return 'feed sits toward the UP mark'
    case 'feedDroop':
      return 'feed sinks, at the horizon'
    case 'squintRight':
      return 'beam looks to the right for another cause'
    case 'squintUp':
      return 'beam looks toward UP for another cause'
    case 'tubeRight':
      return 'sighting tube looks to the right'
    case 'tubeUp':
      return 'sighting tube looks toward UP'
    case 'lowerPlay':
      return `${axes.lower} play`
    case 'upperPlay':
      return `${axes.upper} play`
  }
}

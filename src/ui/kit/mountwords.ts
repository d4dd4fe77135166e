/** What a mount's numbers mean, for the forms that ask for them. */
import type { Axis, MountKind } from '../../core/records/fieldbook.ts'

/** Which axis each name means, for where it is met first: it names the axis and what that axis reads. */
export const AXES_OF: Readonly<Record<MountKind, string>> = {
  'el-over-az': 'Azimuth: the lower axis turns the whole dish round. Elevation: the upper axis tips it up.',
  'ha-dec':
    'Hour angle: the lower axis, the polar axis, turns the dish from east to west. Declination: the upper axis.',
  'az-over-el':
    'Tilt: the lower axis tips the whole dish up. Swing: the upper axis, carried by it, takes the dish left and right.',
  'x-y':
    'X: the lower axis tips the whole dish to the side. Y: the upper axis, carried by it, tips it forward and back.',
}

/** Where an axis stands at zero. */
export const ZERO_OF: Readonly<Record<MountKind, Readonly<Record<Axis, string>>>> = {
  'el-over-az': {
    lower: 'Azimuth is 0 when the dish looks true north.',
    upper: 'Elevation is 0 when it looks at the horizon.',
  },
  'ha-dec': {
    lower: 'Hour angle is 0 when the dish looks along the meridian.',
    upper: 'Declination is 0 when it looks square to the polar axis.',
  },
  'az-over-el': {
    lower: 'Tilt is 0 when the plane in which the dish swings lies level.',
    upper: 'Swing is 0 when the dish looks straight ahead, square to the tilt axis.',
  },
  'x-y': {
    lower: 'X is 0 when the dish is not tipped sideways.',
    upper: 'Y is 0 when it is not tipped forward.',
  },
}

/** What the heading refers to; empty where the mount has none. */
export const HEADING_OF: Readonly<Record<MountKind, string>> = {
  'el-over-az': '',
  'ha-dec': '',
  'az-over-el': 'The direction in which the dish looks with the swing at zero.',
  'x-y': 'The direction in which the X axis points, forward.',
}

/** What the parts of a mount are called, in files and in the program: its kinds, its axes, the sides of arrival. */

export const MOUNT_KINDS = ['el-over-az', 'ha-dec', 'az-over-el', 'x-y'] as const
export type MountKind = (typeof MOUNT_KINDS)[number]
export const AXES = ['lower', 'upper'] as const
export type Axis = (typeof AXES)[number]
/** From which side a reading was reached: going up, or going down. */
export const SIDES = ['+', '-'] as const
export type Side = (typeof SIDES)[number]

/** What an axis is called on each mount. */
export const AXIS_NAMES = {
  'el-over-az': { lower: 'azimuth', upper: 'elevation' },
  'ha-dec': { lower: 'hour angle', upper: 'declination' },
  'az-over-el': { lower: 'tilt', upper: 'swing' },
  'x-y': { lower: 'X', upper: 'Y' },
} as const

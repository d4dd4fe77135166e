/** What the parts of a mount are called, in files and in the program: its kinds, its axes, the sides of arrival. */

export type MountKind = 'el-over-az' | 'ha-dec' | 'az-over-el' | 'x-y'
export type Axis = 'lower' | 'upper'
export const AXES: readonly Axis[] = ['lower', 'upper']
/** From which side a reading was reached: going up, or going down. */
export type Side = '+' | '-'

/** What an axis is called on each mount. */
export const AXIS_NAMES = {
  'el-over-az': { lower: 'azimuth', upper: 'elevation' },
  'ha-dec': { lower: 'hour angle', upper: 'declination' },
  'az-over-el': { lower: 'tilt', upper: 'swing' },
  'x-y': { lower: 'X', upper: 'Y' },
} as const

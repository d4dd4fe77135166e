/** What the parts of a mount are called, in files and in the program: its kinds, its axes, the sides of arrival, its parameters. */

export type MountKind = 'el-over-az' | 'ha-dec' | 'az-over-el' | 'x-y'
export type Axis = 'lower' | 'upper'
/** From which side a reading was reached: going up, or going down. */
export type Side = '+' | '-'

/** The ids of the mount as built, in the order in which they are told. */
export const PARAMETER_IDS = [
  'leanNorth',
  'leanEast',
  'poleEast',
  'poleUp',
  'heading',
  'level',
  'lowerZero',
  'upperZero',
  'lowerScale',
  'upperScale',
  'lowerBaseArm',
  'lowerRodArm',
  'upperBaseArm',
  'upperRodArm',
  'squareness',
  'collimation',
  'sag',
  'feedRight',
  'feedUp',
  'feedDroop',
  'squintRight',
  'squintUp',
  'tubeRight',
  'tubeUp',
  'lowerPlay',
  'upperPlay',
] as const
export type ParameterId = (typeof PARAMETER_IDS)[number]

/** Those that each feed has of its own. */
export const FEED_PARAMETERS = ['feedRight', 'feedUp', 'feedDroop', 'squintRight', 'squintUp'] as const

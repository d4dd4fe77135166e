/**
 * The mount as built at one instant and with one feed: its deviations from paper in one flat array, by slot.
 * Radians, ratios and millimetres. Slots 0 and 1 are the lower axis, whatever the kind calls them.
 */
import type { MountKind, ParameterId } from './names.ts'

export const SLOT = {
  axisA: 0,
  axisB: 1,
  lowerZero: 2,
  upperZero: 3,
  lowerScale: 4,
  upperScale: 5,
  lowerBaseArm: 6,
  lowerRodArm: 7,
  upperBaseArm: 8,
  upperRodArm: 9,
  squareness: 10,
  collimation: 11,
  sag: 12,
  feedRight: 13,
  feedUp: 14,
  feedDroop: 15,
  squintRight: 16,
  squintUp: 17,
  tubeRight: 18,
  tubeUp: 19,
  lowerPlay: 20,
  upperPlay: 21,
  lowerShift: 22,
  upperShift: 23,
} as const

/** The last two are readings, not angles: what a counter that slipped falls short by (no parameter of the table). */
export const SLOTS = 24

/** One value per slot. */
export type Built = Float64Array

/** A mount exactly as on paper. */
export const onPaper = (): Built => new Float64Array(SLOTS)

const LOWER_AXIS: Record<MountKind, readonly [ParameterId, ParameterId]> = {
  'el-over-az': ['leanNorth', 'leanEast'],
  'ha-dec': ['poleEast', 'poleUp'],
  'az-over-el': ['heading', 'level'],
  'x-y': ['heading', 'level'],
}

/** The two parameters that turn this kind's lower axis, in slot order. */
export const lowerAxisIds = (kind: MountKind): readonly [ParameterId, ParameterId] => LOWER_AXIS[kind]

/** The slot of a parameter; null when this kind of mount has no such parameter. */
export function slotOf(id: ParameterId, kind: MountKind): number | null {
  const axis = LOWER_AXIS[kind].indexOf(id)
  if (axis >= 0) return axis
  return (SLOT as Record<string, number | undefined>)[id] ?? null
}

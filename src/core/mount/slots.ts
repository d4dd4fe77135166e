/**
 * The mount as built at one instant and with one feed: its deviations from paper in one flat array, by slot.
 * Radians, ratios and millimetres. Slots 0 and 1 are the lower axis, whatever the kind calls them.
 */
import type { MountKind } from './names.ts'
import { isOfKind, type ParameterId } from './parameters.ts'
import { PARAMETERS } from './parametertable.ts'

/** What a slipped counter falls short by: in readings, not angles, and not parameters of the table. */
const SHIFTS = ['lowerShift', 'upperShift'] as const
export type SlotName = (typeof PARAMETERS)[number]['slot'] | (typeof SHIFTS)[number]

const NAMES: readonly SlotName[] = [...new Set(PARAMETERS.map(entry => entry.slot)), ...SHIFTS]

/** In the order of the table; the shifts are the last two. */
export const SLOT = Object.fromEntries(NAMES.map((name, slot) => [name, slot])) as Readonly<Record<SlotName, number>>

export const SLOTS = NAMES.length

/** One value per slot. */
export type Built = Float64Array

/** A mount exactly as on paper. */
export const onPaper = (): Built => new Float64Array(SLOTS)

const inSlot = (slot: SlotName, kind: MountKind): ParameterId =>
  PARAMETERS.find(entry => entry.slot === slot && isOfKind(entry.id, kind))!.id

/** The two parameters that turn this kind's lower axis, in slot order. */
export const lowerAxisIds = (kind: MountKind): readonly [ParameterId, ParameterId] => [
  inSlot('axisA', kind),
  inSlot('axisB', kind),
]

const SLOT_OF: ReadonlyMap<string, number> = new Map(PARAMETERS.map(({ id, slot }) => [id, SLOT[slot]]))

/** The slot of a parameter; null when this kind of mount has no such parameter. */
export const slotOf = (id: ParameterId, kind: MountKind): number | null =>
  isOfKind(id, kind) ? (SLOT_OF.get(id) ?? null) : null

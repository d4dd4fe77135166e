/** Which levels a mount has, the most useful first, and which of them the solution uses. */
import type { LevelRaw, LevelRecord, MountKind, SwingRaw } from './fieldbook.ts'

export type LevelWhat = LevelRecord['what']

const KINDS: Readonly<Record<MountKind, readonly LevelWhat[]>> = {
  // On this mount the mast is the lower axis.
  'el-over-az': ['mast-lean', 'dish-elevation', 'upper-axis-elevation'],
  'ha-dec': ['lower-axis-elevation', 'dish-elevation', 'upper-axis-elevation', 'mast-lean'],
  'az-over-el': ['lower-axis-elevation', 'upper-axis-elevation', 'dish-elevation', 'mast-lean'],
  'x-y': ['lower-axis-elevation', 'upper-axis-elevation', 'dish-elevation', 'mast-lean'],
}

export const levelKinds = (mount: MountKind): readonly LevelWhat[] => KINDS[mount]

/** False: kept and shown only. A mast's lean measures the lower axis only where the mast is the lower axis. */
export const isLevelFitted = (mount: MountKind, what: LevelWhat): boolean =>
  what === 'mast-lean' ? mount === 'el-over-az' : what !== 'lower-axis-elevation' || mount !== 'el-over-az'

export type SwungLevel = LevelRecord & { raw: LevelRaw & { swing: SwingRaw } }

/** True where the level was found by swinging an axis. */
export const isSwung = (level: LevelRecord): level is SwungLevel => level.raw?.swing !== undefined

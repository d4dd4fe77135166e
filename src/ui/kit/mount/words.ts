/** Words of the records of a mount (levels, marks, changes) and of what several of its subjects say: cautions, what a level is called. */

import type { Senses } from '../../../core/mount/parameters.ts'
import type { MountRecord } from '../../../core/records/fieldbook.ts'
import type { LevelWhat } from '../../../core/records/levelkinds.ts'
import { measured, toward } from '../format.ts'
import { axisName } from '../phrases.ts'

/** Cautions stand where the act is: the gravest fact, and the rest. */
export const CAUTIONS = {
  axis: {
    act: 'axis',
    gravest: 'Jack supply off before hands go near: a jack can start without warning.',
    more: ['Stay on the ground, and out from under the dish. Fix the phone or the instrument so that it cannot fall.'],
  },
  dish: {
    act: 'level-dish',
    gravest: 'Jack supply off before you reach into the dish; never stand under it.',
    more: [
      'Wind moves the reading and the dish: wait for a lull, and stop in a wind you would not put a ladder up in.',
      'With the Sun near the beam, turn the dish off it first: the focus burns.',
    ],
  },
  mast: {
    act: 'mast',
    gravest: 'Measure from the ground, as high as you reach: never climb a mast.',
    more: [
      'Look up first: no power line within reach of a mast that might fall.',
      'Before a foot bolt is loosened to shim it: guy or prop the mast, jack supply off, not alone.',
    ],
  },
  mark: {
    act: 'mark',
    gravest: 'Let the limit switch stop the jack; never drive it against metal.',
    more: ['Keep hands out of the clevis, and nobody near the dish while a jack runs.'],
  },
  tape: {
    act: 'tape',
    gravest: 'Jack supply off before the tape goes near it: it pinches.',
    more: [
      'Never unpin a jack to tape it: the dish falls. If you must, prop or tie the dish first.',
      'Keep out from under the dish. Not in wind, not alone.',
    ],
  },
  unpinned: {
    act: 'unpinned',
    gravest: 'A dish with its jack unpinned or its clamp loose falls: prop or tie it first.',
    more: ['Jack supply off, not in wind, not alone.'],
  },
} as const

/** What each level is called on this mount. */
export function levelName(mount: MountRecord, what: LevelWhat): string {
  const [lower, upper] = [axisName(mount, 'lower'), axisName(mount, 'upper')]
  switch (what) {
    case 'lower-axis-elevation':
      return mount.kind === 'az-over-el'
        ? `Level of the ${lower} axis`
        : mount.kind === 'x-y'
          ? `Level of the ${lower} axis`
          : 'Elevation of the polar axis'
    case 'upper-axis-elevation':
      return mount.kind === 'el-over-az' ? `Level of the ${upper} axis` : `Elevation of the ${upper} axis`
    case 'mast-lean':
      return mount.kind === 'el-over-az' ? 'Lean of the azimuth axis' : 'The mast’s lean'
    case 'dish-elevation':
      return 'Elevation of the dish'
  }
}

export const MOUNT = {
  back: 'Back to the list',
  gone: 'This record is no longer in the book.',
  kept: 'Kept in the book',
  note: 'Note',
  mayStayEmpty: 'Optional.',
  when: 'When',
  result: 'Result',
  notYet: 'Not yet',
  finer: 'How good the instrument is',
  step: 'Smallest step it shows',
  usual: (deg: string) => `Optional: ${deg} if left empty.`,
  edit: 'Edit it',
  remove: 'Delete it',
  applied: 'It is in the station now.',
  discard: 'Discard what I typed',
} as const

export const ENDS: Readonly<Record<string, Senses>> = {
  'az-over-el': ['left-hand end up', 'right-hand end up'],
  'x-y': ['rear end up', 'forward end up'],
}

/** "right-hand end up 0.60 ± 0.25°" */
export function elevationWords(mount: MountRecord, what: LevelWhat, valueDeg: number, sigmaDeg: number | null): string {
  const senses = what === 'lower-axis-elevation' ? ENDS[mount.kind] : undefined
  if (senses) return toward(valueDeg, senses, '°', sigmaDeg)
  return what === 'dish-elevation'
    ? `${measured(valueDeg, sigmaDeg, '°').text} up`
    : `upper end ${measured(valueDeg, sigmaDeg, '°').text} up`
}

/** Words for what levels alone tell. Pure. */
import { knownEntry } from '../../core/mount/parameters.ts'
import type { MountRecord } from '../../core/records/fieldbook.ts'
import { axisName, listed } from '../kit/phrases.ts'
import type { ByLevels, OpenKind } from './bylevels.ts'

export const BY_LEVELS = {
  title: 'No sightings yet. By the levels alone:',
  nothing: 'No sightings yet, and the levels have not narrowed anything down.',
  loose: 'still open',
  never: 'Levels do not show north: only sightings of Sun, Moon or a landmark give the heading.',
  more: 'What levels could still show:',
} as const

const KINDS: Readonly<Record<OpenKind, string>> = {
  scale: 'scales and jacks',
  dish: 'how the dish sits on its axes',
  feed: 'where the feed sits',
}

/** "Still open: heading, zero of swing, where the feed sits." */
export function openSentence(told: ByLevels, mount: MountRecord): string {
  const names = [...told.open.map(f => shortName(f.key.split(' ')[0]!, mount)), ...told.openKinds.map(k => KINDS[k])]
  return names.length === 0 ? 'Nothing is open.' : `Still open: ${listed([...new Set(names)])}.`
}

function shortName(id: string, mount: MountRecord): string {
  const entry = knownEntry(id)
  const axis = entry?.axis ? axisName(mount, entry.axis) : ''
  switch (entry?.family) {
    case 'heading':
      return 'the heading'
    case 'zero':
      return mount.kind === 'el-over-az' && entry.axis === 'lower' ? 'the heading' : `the zero of ${axis}`
    case 'level':
      return `the level of the ${axisName(mount, 'lower')} axis`
    case 'lean':
      return 'the lean of the azimuth axis'
    default:
      return 'where the polar axis points'
  }
}

/** What keeps a target from being used, in words: what ends a spell, what begins it, what takes hours of the Moon. */
import type { Hindrance } from '../../core/plan/hindrance.ts'
import type { SpellEnd } from '../../core/plan/windows.ts'
import type { Axis, MountRecord } from '../../core/records/fieldbook.ts'
import { axisName, keptReading } from './phrases.ts'

/** Only the kind of mount is needed for the names of its axes. */
type Named = Pick<MountRecord, 'kind'>
const nameOf = (mount: Named, axis: Axis): string => axisName(mount as MountRecord, axis)

const splitLimit = (h: SpellEnd): { axis: Axis; end: 'min' | 'max' | 'triangle' } | null => {
  const m = /^(lower|upper)-(min|max|triangle)$/.exec(h)
  return m && { axis: m[1] as Axis, end: m[2] as 'min' | 'max' | 'triangle' }
}

/** "the tilt", "axis X" */
const theAxis = (name: string): string => (name.length === 1 ? `axis ${name}` : `the ${name}`)

/** As a noun: "the minimum elevation", "the highest reading of the tilt". */
export function hindranceWords(mount: Named, h: SpellEnd): string {
  const limit = splitLimit(h)
  if (limit) {
    const axis = nameOf(mount, limit.axis)
    return limit.end === 'triangle'
      ? `the reach of the jack of ${theAxis(axis)}`
      : `the ${limit.end === 'min' ? 'lowest' : 'highest'} reading of ${theAxis(axis)}`
  }
  switch (h as Exclude<SpellEnd, `${Axis}-${string}`>) {
    case 'floor':
      return 'the minimum elevation'
    case 'mask':
      return 'your skyline'
    case 'no-pose':
      return 'the mount’s keyhole, where no pose points'
    case 'partner':
      return 'the other end’s horizon'
    case 'span':
      return 'the end of these days'
  }
}

/** As it is now: "too low", "swing at its 820 counts stop". */
export function hindranceState(mount: MountRecord, h: Hindrance): string {
  const limit = splitLimit(h)
  if (limit === null)
    return h === 'floor' ? 'too low' : h === 'mask' ? 'behind your skyline' : 'too near the axis for this mount'
  const axis = axisName(mount, limit.axis)
  if (limit.end === 'triangle') return `${axis} beyond the reach of its jack`
  return `${axis} at its ${keptReading(mount, limit.axis, mount[limit.axis][limit.end === 'min' ? 'minReading' : 'maxReading'])} stop`
}

/** In a few letters, for a picture: "floor", "skyline", "tilt max". */
export function hindranceShort(mount: Named, h: Hindrance): string {
  const limit = splitLimit(h)
  if (limit)
    return `${nameOf(mount, limit.axis)} ${limit.end === 'min' ? 'low end' : limit.end === 'max' ? 'high end' : 'jack'}`
  return h === 'floor' ? 'minimum elevation' : h === 'mask' ? 'skyline' : 'keyhole'
}

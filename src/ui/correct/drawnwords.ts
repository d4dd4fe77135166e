/** Words in and under the drawing of the mount, and the short names beside the bars. Pure. */
import type { MovedPart, Toward } from '../../core/export/advice.ts'
import { knownEntry } from '../../core/mount/parameters.ts'
import type { MountKind, MountRecord } from '../../core/records/fieldbook.ts'
import type { Solution } from '../../core/records/solution.ts'
import { type LengthUnit, measured, measuredLength } from '../kit/format.ts'
import type { DrawnMove } from '../kit/mountdrawing-geometry.ts'
import { axisName, listed } from '../kit/phrases.ts'
import type { Found } from './found.ts'

/** "raise this end", at its arrow. */
export function drawTitle(part: MovedPart, toward: Toward): string {
  const mark = toward === 'up-mark' ? 'to UP mark' : toward === 'from-up-mark' ? 'off UP mark' : toward
  switch (part) {
    case 'mount':
      return `turn ${toward}`
    case 'mast':
      return `tip mast ${toward}`
    case 'polar-axis':
      return toward === 'up' ? 'raise upper end' : toward === 'down' ? 'lower upper end' : `upper end ${toward}`
    case 'upper-axis-top':
      return `tip top ${toward}`
    case 'upper-axis-west-end':
      return `west end ${toward}`
    case 'upper-axis-right-end':
      return toward === 'up' ? 'raise this end' : `this end ${toward}`
    case 'dish':
      return toward === 'up' || toward === 'down' ? `tip dish ${toward}` : `turn dish ${toward}`
    case 'feed':
      return `feed ${mark}`
    case 'tube':
      return `tube ${mark}`
    default:
      return 'raise this end'
  }
}

export const DRAWN = {
  title: 'What to turn',
  plain: 'The mount, from behind the dish',
  firstStep: 'first step',
  more: (n: number) => `${n} more in the list below`,
  caution: 'dish propped or tied, no wind, not alone.',
  captions: {
    'el-over-az': 'from behind, the dish facing north',
    'ha-dec': 'from behind, the dish at the meridian',
    'az-over-el': 'from behind the dish; clockwise as seen from above',
    'x-y': 'from behind, dish up; clockwise as seen from above',
  } satisfies Record<MountKind, string>,
} as const

/** The moves of the feed in use, and those of no feed. */
export function drawnMoves(turns: readonly Found[], feed: string, unit: LengthUnit): DrawnMove[] {
  return turns.flatMap(({ key, advice }) => {
    const of = key.split(' ')[1]
    if (advice.kind !== 'move' || (of && of !== feed)) return []
    const { size, sigma, part, toward, firstStep } = advice
    const amount = advice.unit === 'mm' ? measuredLength(size, sigma, unit).text : measured(size, sigma, '°').text
    return [{ key, part, toward, title: drawTitle(part, toward), amount, ...(firstStep && { note: DRAWN.firstStep }) }]
  })
}

/** "tilt zero"; what has no short name keeps its own. */
export function shortName(id: string, mount: MountRecord, otherwise: string): string {
  const axis = (of: 'lower' | 'upper' | undefined) => axisName(mount, of ?? 'lower')
  const entry = knownEntry(id)
  switch (entry?.family) {
    case 'heading':
      return 'heading'
    case 'level':
      return `${axis('lower')} axis level`
    case 'zero':
      return `${axis(entry.axis)} zero`
    case 'scale':
      return `${axis(entry.axis)} scale`
    case 'arms':
      return `${axis(entry.axis)} ${id.endsWith('BaseArm') ? 'fixed' : 'rod'} arm`
    case 'play':
      return `${axis(entry.axis)} play`
    default:
      return entry?.short ?? otherwise
  }
}

/** What the sightings leave open, by name: "heading, swing zero and dish offset". Empty where all is known well enough. */
export const openNames = (solution: Solution, mount: MountRecord): string[] =>
  solution.parameters.filter(p => p.state === 'open').map(p => shortName(p.id, mount, p.label))

/** Nothing to turn: either nothing is off, or it is not known yet what; then what is open. */
export const nothingWords = (open: readonly string[]): string =>
  open.length === 0
    ? 'Nothing is so far off that a spanner would help.'
    : `Nothing is surely off yet. Still open: ${listed(open.length > MOST_NAMED ? [...open.slice(0, MOST_NAMED), `${open.length - MOST_NAMED} more`] : open)}.`
const MOST_NAMED = 3

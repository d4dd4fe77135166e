/** The opposite of a way that a person has put in words. */
import { safeText } from './format.ts'

const OPPOSITE: readonly (readonly [string, string])[] = [
  ['anticlockwise', 'clockwise'],
  ['up', 'down'],
  ['left', 'right'],
  ['in', 'out'],
  ['north', 'south'],
  ['east', 'west'],
]

/** The other way of "clockwise, from above": the first word alone turns round, where it is one that has an opposite. */
export function otherWay(plus: string): string {
  const [, first = '', rest = ''] = /^(\S*?)((?:[,;:.]|\s).*)?$/s.exec(plus) ?? []
  for (const [a, b] of OPPOSITE) {
    if (first.toLowerCase() === a) return `${b}${rest}`
    if (first.toLowerCase() === b) return `${a}${rest}`
  }
  return `the other way than “${safeText(plus)}”`
}

/** What the change form begins with after turning: only the part of the first advice. What else was turned is added by hand. */
import { changeOf } from '../../core/export/advice.ts'
import type { Found } from './found.ts'

/** @param turns  what there is to turn, the first one first */
export function turnedParts(turns: readonly Found[]): string[] {
  for (const { advice, key } of turns)
    if (advice.kind === 'move') return changeOf(advice, key.split(' ')[1] || undefined)
  return []
}

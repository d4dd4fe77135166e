/**
 * What holds for every value of a book, known to the program or not: nesting has a limit, and numbers are
 * finite (1e999 in a file is infinite once read). Without recursion, since the file may be hostile.
 */
import type { FaultCollector } from './faultlist.ts'
import type { Loose } from './loose.ts'
import { recordPath } from './shown.ts'

/** Levels of brackets. A book of version 1 has eight; everything after this check may recurse. */
export const DEEPEST = 100

/**
 * Depth and finiteness of everything in a value.
 *
 * @param at       its path
 * @param deepest  levels of brackets that it may have
 * @returns        false when it is too deep to go on
 */
export function walk(root: unknown, faults: FaultCollector, at = '', deepest = DEEPEST): boolean {
  type Frame = { at: Loose | unknown[]; keys: string[] | null; next: number }
  const frameOf = (value: object): Frame =>
    Array.isArray(value)
      ? { at: value, keys: null, next: 0 }
      : { at: value as Loose, keys: Object.keys(value), next: 0 }
  const frames: Frame[] = []
  const path = (): string =>
    recordPath(
      at,
      frames.map(f => (f.keys === null ? f.next - 1 : f.keys[f.next - 1]!)),
    )
  if (typeof root === 'object' && root !== null) frames.push(frameOf(root))
  while (frames.length > 0) {
    const frame = frames[frames.length - 1]!
    const { at: holder, keys } = frame
    if (frame.next >= (keys === null ? (holder as unknown[]).length : keys.length)) {
      frames.pop()
      continue
    }
    const value = keys === null ? (holder as unknown[])[frame.next] : (holder as Loose)[keys[frame.next]!]
    frame.next += 1
    if (typeof value === 'number') {
      if (!Number.isFinite(value)) {
        faults.add(path(), `every number must be finite, got ${value} (a number too large to be kept)`)
        if (faults.isFull()) return true
      }
    } else if (typeof value === 'object' && value !== null) {
      if (frames.length >= deepest) {
        faults.add(at, `nested deeper than ${DEEPEST} levels`)
        return false
      }
      frames.push(frameOf(value))
    }
  }
  return true
}

/** Sending as a running sequence of codes: as many as the other phone needs, none of which is indispensable. */
import { codeParts, idOf, LONGEST_BODY, NUMBERS, textFromFrame } from './frame.ts'
import { addTo, hasPart, partsIn } from './mixes.ts'

export interface Sequence {
  id: string
  /** As many frames as there are parts are needed at least. */
  count: number
  /** The text of a frame; numbers go on for ever. All are equally long. */
  code(number: number): string
}

/** @param body  1 to `LONGEST_BODY` bytes; null beyond that */
export function sequenceOf(body: Uint8Array): Sequence | null {
  if (body.length === 0 || body.length > LONGEST_BODY) return null
  const id = idOf(body)
  const { length } = body
  const { count, size } = codeParts(length)
  const parts = Array.from({ length: count }, (_, k) => {
    const part = new Uint8Array(size)
    part.set(body.subarray(k * size, (k + 1) * size))
    return part
  })
  return {
    id,
    count,
    code(number) {
      const at = number % NUMBERS
      const bits = partsIn(at, count)
      const payload = new Uint8Array(size)
      parts.forEach((part, k) => {
        if (hasPart(bits, k)) addTo(payload, part)
      })
      return textFromFrame({ id, length, number: at, payload })
    },
  }
}

/**
 * Receiving by codes: frames in any order, some again and again, some never; until the whole is there and its checksum right. The
 * frames are equations over GF(2), solved as they come (Gauss): each that says something new is kept under its lowest part.
 */
import { type CodeFrame, codeParts, frameFromText, idOf } from './frame.ts'
import { addTo, hasPart, partsIn } from './mixes.ts'

export type CodeTaken =
  /** `have` of `of` are there; `new`: whether this one added anything. */
  | { kind: 'part'; new: boolean; have: number; of: number }
  | { kind: 'whole'; body: Uint8Array }
  /** Of another sequence than the one begun with: nothing is taken of it. */
  | { kind: 'other' }
  | { kind: 'foreign' }
  | { kind: 'newer'; version: number }
  | { kind: 'damaged' }
  /** All parts were there and do not make up what was sent: all of them are dropped. */
  | { kind: 'not-whole' }

export interface Gathering {
  take(text: string): CodeTaken
  /** Drops all that was taken; the next frame begins a sequence. */
  startOver(): void
}

interface Row {
  bits: Uint32Array
  data: Uint8Array
}
interface Begun {
  id: string
  length: number
  count: number
  rows: (Row | undefined)[]
  have: number
}

const begin = ({ id, length }: CodeFrame): Begun => ({ id, length, count: codeParts(length).count, rows: [], have: 0 })

const lowest = (bits: Uint32Array): number => {
  const word = bits.findIndex(w => w !== 0)
  return word < 0 ? -1 : 32 * word + 31 - Math.clz32(bits[word]! & -bits[word]!)
}

/** @returns whether it says anything new; 'at odds' with what is there: one of them is wrong */
function keep(begun: Begun, frame: CodeFrame): boolean | 'at odds' {
  const row: Row = { bits: partsIn(frame.number, begun.count), data: frame.payload.slice() }
  for (let at = lowest(row.bits); at >= 0; at = lowest(row.bits)) {
    const there = begun.rows[at]
    if (there === undefined) {
      begun.rows[at] = row
      begun.have++
      return true
    }
    addTo(row.bits, there.bits)
    addTo(row.data, there.data)
  }
  return row.data.every(byte => byte === 0) ? false : 'at odds'
}

/** The body, once there are as many rows as parts: from the last part up, each row gives one. */
function bodyOf({ rows, count, length }: Begun): Uint8Array {
  const solved = rows as Row[]
  const { size } = codeParts(length)
  const body = new Uint8Array(count * size)
  for (let k = count - 1; k >= 0; k--) {
    const { bits, data } = solved[k]!
    for (let other = k + 1; other < count; other++) if (hasPart(bits, other)) addTo(data, solved[other]!.data)
    body.set(data, k * size)
  }
  return body.slice(0, length)
}

export function gathering(): Gathering {
  let begun: Begun | null = null
  return {
    take(text) {
      const read = frameFromText(text)
      if (read.kind !== 'frame') return read
      const { frame } = read
      begun ??= begin(frame)
      if (begun.id !== frame.id || begun.length !== frame.length) return { kind: 'other' }
      const isNew = keep(begun, frame)
      if (isNew === 'at odds') {
        begun = null
        return { kind: 'not-whole' }
      }
      const { have, count, id } = begun
      if (have < count) return { kind: 'part', new: isNew, have, of: count }
      const body = bodyOf(begun)
      begun = null
      return idOf(body) === id ? { kind: 'whole', body } : { kind: 'not-whole' }
    },
    startOver() {
      begun = null
    },
  }
}

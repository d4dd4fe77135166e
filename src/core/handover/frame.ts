/**
 * One code of a running sequence: what it holds, as text for a QR code. "MOONPLUMB1:", then in base 45: the id of the whole (the first
 * eight bytes of its SHA-256), its length, the number of this frame, what it carries, and a check of all that. Lengths in bytes,
 * numbers big-endian.
 */
import { sha256 } from '@noble/hashes/sha2.js'
import { base45, bytesIn, fromBase45 } from './base45.ts'

export const FRAME_VERSION = 1
const MARK = 'MOONPLUMB'
const MARKED = /^MOONPLUMB([1-9]\d{0,2}):/

const ID = 8
const LENGTH_AT = ID
const NUMBER_AT = ID + 3
const HEAD = ID + 6
const CHECK = 4

/**
 * A code of version 11 holds this many, 61 modules a side, with 7 % error correction. Fewer, larger modules are read better than more correction
 * words: the same bytes in version 13 with 15 % are read less often out of focus. `tests/core/handover/seen.test.ts` holds what this one bears.
 */
const LETTERS = 468
const MOST_PAYLOAD = bytesIn(LETTERS - `${MARK}${FRAME_VERSION}:`.length) - HEAD - CHECK

/** Longer ones would take minutes: send a file instead. */
export const LONGEST_BODY = 300_000
/** Numbers have three bytes. */
export const NUMBERS = 2 ** 24

export interface CodeFrame {
  /** Eight bytes, as hexadecimal digits. */
  id: string
  /** Of the whole. */
  length: number
  number: number
  /** One part of the whole, or several added up (XOR). */
  payload: Uint8Array
}

export type FrameRead =
  | { kind: 'frame'; frame: CodeFrame }
  /** Some other code. */
  | { kind: 'foreign' }
  /** Of a later version of this program. */
  | { kind: 'newer'; version: number }
  /** One of ours, and not all as it was written. */
  | { kind: 'damaged' }

const hex = (bytes: Uint8Array): string => Array.from(bytes, b => b.toString(16).padStart(2, '0')).join('')
const fromHex = (text: string): Uint8Array =>
  Uint8Array.from(text.match(/../g) ?? [], pair => Number.parseInt(pair, 16))

export const idOf = (body: Uint8Array): string => hex(sha256(body).subarray(0, ID))

/** Into how many parts a body goes, and how long each is; the last is filled up with zeros. */
export function codeParts(length: number): { count: number; size: number } {
  const count = Math.ceil(length / MOST_PAYLOAD)
  return { count, size: Math.ceil(length / count) }
}

export function textFromFrame({ id, length, number, payload }: CodeFrame): string {
  const bytes = new Uint8Array(HEAD + payload.length + CHECK)
  bytes.set(fromHex(id))
  bytes.set([length >> 16, length >> 8, length], LENGTH_AT)
  bytes.set([number >> 16, number >> 8, number], NUMBER_AT)
  bytes.set(payload, HEAD)
  const end = bytes.length - CHECK
  bytes.set(sha256(bytes.subarray(0, end)).subarray(0, CHECK), end)
  return `${MARK}${FRAME_VERSION}:${base45(bytes)}`
}

export function frameFromText(text: string): FrameRead {
  const marked = MARKED.exec(text)
  if (marked === null) return { kind: 'foreign' }
  const version = Number(marked[1])
  if (version !== FRAME_VERSION) return version > FRAME_VERSION ? { kind: 'newer', version } : { kind: 'foreign' }
  const bytes = fromBase45(text.slice(marked[0].length))
  if (bytes === null || bytes.length <= HEAD + CHECK) return { kind: 'damaged' }
  const end = bytes.length - CHECK
  const check = sha256(bytes.subarray(0, end))
  for (let k = 0; k < CHECK; k++) if (check[k] !== bytes[end + k]) return { kind: 'damaged' }
  const three = (at: number) => (bytes[at]! << 16) | (bytes[at + 1]! << 8) | bytes[at + 2]!
  const length = three(LENGTH_AT)
  const payload = bytes.slice(HEAD, end)
  if (length === 0 || length > LONGEST_BODY || payload.length !== codeParts(length).size) return { kind: 'damaged' }
  return { kind: 'frame', frame: { id: hex(bytes.subarray(0, ID)), length, number: three(NUMBER_AT), payload } }
}

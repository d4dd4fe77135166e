/**
 * Which parts a frame carries. The first frames carry one each, in order; every later one carries about half of all, added up (XOR), so
 * that each brings something new to whoever still lacks something, no matter which were lost: about two frames more than there are
 * parts are enough. Source: random linear codes over GF(2); a matrix of n + k random rows lacks full rank with a chance of 2^-k.
 */

/** Mixes 32 bits well. Source: the finisher of MurmurHash3, public domain. */
function stirred(x: number): number {
  let h = x | 0
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b)
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35)
  return h ^ (h >>> 16)
}

/** @returns a bit for each of `count` parts, 32 to a word, the lowest first; at least one is set */
export function partsIn(number: number, count: number): Uint32Array {
  const bits = new Uint32Array(Math.ceil(count / 32))
  const one = (k: number) => {
    bits[k >> 5]! |= 1 << (k & 31)
  }
  if (number < count) {
    one(number)
    return bits
  }
  const seed = stirred(number)
  for (let w = 0; w < bits.length; w++) bits[w] = stirred(seed + Math.imul(w + 1, 0x9e3779b9))
  if (count % 32 !== 0) bits[bits.length - 1]! &= 2 ** (count % 32) - 1
  if (bits.every(word => word === 0)) one(number % count)
  return bits
}

export const hasPart = (bits: Uint32Array, k: number): boolean => ((bits[k >> 5]! >>> (k & 31)) & 1) === 1

/** into ^= from */
export function addTo(into: Uint8Array | Uint32Array, from: Uint8Array | Uint32Array): void {
  for (let k = 0; k < into.length; k++) into[k]! ^= from[k]!
}

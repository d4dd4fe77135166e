/**
 * SHA-256, for short messages: the checksum of what goes over by codes, here because the core is without the browser's own.
 * Source: FIPS 180-4, sections 4.1.2, 5 and 6.2. Its constants are made as section 4.2.2 says: from the cube and square roots of
 * the first primes; `tests/core/handover/sha256.test.ts` holds the whole to Node's.
 */

const PRIMES: number[] = []
for (let n = 2; PRIMES.length < 64; n++) if (PRIMES.every(p => n % p !== 0)) PRIMES.push(n)

/** The first 32 bits of the fraction of x: exact, since a double has 53 and the roots are below 8. */
const fraction = (x: number): number => ((x - Math.floor(x)) * 2 ** 32) | 0
const START = PRIMES.slice(0, 8).map(p => fraction(Math.sqrt(p)))
const ROUND = PRIMES.map(p => fraction(Math.cbrt(p)))

const turned = (x: number, by: number): number => (x >>> by) | (x << (32 - by))

/** @returns 32 bytes */
export function sha256(message: Uint8Array): Uint8Array {
  const padded = new Uint8Array((((message.length + 8) >> 6) + 1) << 6)
  padded.set(message)
  padded[message.length] = 0x80
  const view = new DataView(padded.buffer)
  view.setUint32(padded.length - 8, Math.floor(message.length / 2 ** 29))
  view.setUint32(padded.length - 4, message.length << 3)
  const hash = Int32Array.from(START)
  const w = new Int32Array(64)
  for (let at = 0; at < padded.length; at += 64) {
    for (let t = 0; t < 16; t++) w[t] = view.getInt32(at + 4 * t)
    for (let t = 16; t < 64; t++) {
      const before = w[t - 15]!
      const late = w[t - 2]!
      const small0 = turned(before, 7) ^ turned(before, 18) ^ (before >>> 3)
      const small1 = turned(late, 17) ^ turned(late, 19) ^ (late >>> 10)
      w[t] = (small1 + w[t - 7]! + small0 + w[t - 16]!) | 0
    }
    let [a, b, c, d, e, f, g, h] = hash as unknown as [number, number, number, number, number, number, number, number]
    for (let t = 0; t < 64; t++) {
      const large1 = turned(e, 6) ^ turned(e, 11) ^ turned(e, 25)
      const t1 = (h + large1 + ((e & f) ^ (~e & g)) + ROUND[t]! + w[t]!) | 0
      const large0 = turned(a, 2) ^ turned(a, 13) ^ turned(a, 22)
      const t2 = (large0 + ((a & b) ^ (a & c) ^ (b & c))) | 0
      h = g
      g = f
      f = e
      e = (d + t1) | 0
      d = c
      c = b
      b = a
      a = (t1 + t2) | 0
    }
    ;[a, b, c, d, e, f, g, h].forEach((x, k) => {
      hash[k] = (hash[k]! + x) | 0
    })
  }
  const out = new DataView(new ArrayBuffer(32))
  hash.forEach((x, k) => {
    out.setInt32(4 * k, x)
  })
  return new Uint8Array(out.buffer)
}

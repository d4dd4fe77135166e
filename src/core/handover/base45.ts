/**
 * Bytes as letters that a QR code holds in its alphanumeric mode: 5.5 bits each, so that two bytes take three letters and every
 * reader gives back what was written. Source: RFC 9285.
 */

const LETTERS = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:'
const VALUES = new Map([...LETTERS].map((letter, k) => [letter, k]))

/** How many bytes fit into `letters` letters. */
export const bytesIn = (letters: number): number => 2 * Math.floor(letters / 3) + (letters % 3 === 2 ? 1 : 0)

export function base45(bytes: Uint8Array): string {
  let text = ''
  for (let k = 0; k + 1 < bytes.length; k += 2) {
    const n = 256 * bytes[k]! + bytes[k + 1]!
    text += LETTERS[n % 45]! + LETTERS[Math.floor(n / 45) % 45]! + LETTERS[Math.floor(n / 2025)]!
  }
  if (bytes.length % 2 === 1) {
    const n = bytes[bytes.length - 1]!
    text += LETTERS[n % 45]! + LETTERS[Math.floor(n / 45)]!
  }
  return text
}

/** null: not written by `base45`. */
export function fromBase45(text: string): Uint8Array | null {
  if (text.length % 3 === 1) return null
  const bytes = new Uint8Array(bytesIn(text.length))
  for (let k = 0, at = 0; k < text.length; k += 3) {
    const isPair = k + 2 < text.length
    const [a, b, c] = [text[k]!, text[k + 1]!, isPair ? text[k + 2]! : '0'].map(letter => VALUES.get(letter))
    if (a === undefined || b === undefined || c === undefined) return null
    const n = a + 45 * b + 2025 * c
    if (n > (isPair ? 0xffff : 0xff)) return null
    if (isPair) bytes[at++] = n >> 8
    bytes[at++] = n & 0xff
  }
  return bytes
}

/**
 * One text for one JSON value, whatever the order of its keys, and a short name made from it: 64 bits by FNV-1a over its
 * UTF-8 bytes (Fowler, Noll and Vo; RFC 9923). It tells versions of one record apart, of which there are a few hundred at
 * most: two of them get one name once in some 10^14 books. It does not protect against deliberate forgery.
 */

/** Keys sorted by code unit at every level; a key that is undefined is not there; -0 is 0, as JSON writes it. */
export function canonicalText(value: unknown): string {
  if (typeof value !== 'object' || value === null) return JSON.stringify(value) ?? 'null'
  if (Array.isArray(value)) return `[${value.map(canonicalText).join(',')}]`
  const object = value as Record<string, unknown>
  const parts: string[] = []
  for (const key of Object.keys(object).sort())
    if (object[key] !== undefined) parts.push(`${JSON.stringify(key)}:${canonicalText(object[key])}`)
  return `{${parts.join(',')}}`
}

/** FNV-1a, 64 bits, as 16 hex digits. A lone surrogate counts as the three bytes that its code point would have. */
export function hashOfText(text: string): string {
  let hi = 0xcbf29ce4
  let lo = 0x84222325
  // The prime is 2^40 + 435: a product of 32 bits with 435 stays far below 2^53.
  const byte = (b: number): void => {
    const low = (lo ^ b) >>> 0
    const product = low * 435
    hi = (hi * 435 + low * 256 + Math.floor(product / 4294967296)) >>> 0
    lo = product >>> 0
  }
  for (let i = 0; i < text.length; i += 1) {
    const c = text.codePointAt(i)!
    if (c < 0x80) byte(c)
    else if (c < 0x800) {
      byte(0xc0 | (c >> 6))
      byte(0x80 | (c & 63))
    } else if (c < 0x10000) {
      byte(0xe0 | (c >> 12))
      byte(0x80 | ((c >> 6) & 63))
      byte(0x80 | (c & 63))
    } else {
      byte(0xf0 | (c >> 18))
      byte(0x80 | ((c >> 12) & 63))
      byte(0x80 | ((c >> 6) & 63))
      byte(0x80 | (c & 63))
      i += 1
    }
  }
  return hi.toString(16).padStart(8, '0') + lo.toString(16).padStart(8, '0')
}

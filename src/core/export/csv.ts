/** Tables as text: RFC 4180, CRLF after every line. */

/** Fixed decimals; what rounds to -0 is written as 0. */
export function plainFixed(x: number, decimals: number): string {
  const text = x.toFixed(decimals)
  return Number(text) === 0 ? (0).toFixed(decimals) : text
}

/** A field, quoted where RFC 4180 wants it. */
export const csvField = (text: string): string => (/[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text)

export const csvLines = (lines: readonly string[]): string => `${lines.join('\r\n')}\r\n`

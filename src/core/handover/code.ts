/** A text as a QR code, module by module: the door to the library that writes them. */
import encodeQR from 'qr'

/** The light border that a reader needs around a code, modules. Source: ISO/IEC 18004. */
const BORDER = 4

/** Dark modules true; square, with the light border. */
export type Modules = readonly (readonly boolean[])[]

/** A frame of a sequence: least error correction, since a later frame makes up for one that is not read. */
export const modulesOfFrame = (text: string): Modules =>
  encodeQR(text, 'raw', { ecc: 'low', encoding: 'alphanumeric', border: BORDER })

/** What one code alone may hold, bytes of UTF-8: version 27, which a phone's own camera still reads off another phone's screen. */
export const MOST_IN_ONE = 1465

/** Any text that fits into one code, for any phone's camera; null where it does not fit. @param bytes  of the text in UTF-8 */
export const modulesOfText = (bytes: Uint8Array): Modules | null =>
  bytes.length === 0 || bytes.length > MOST_IN_ONE
    ? null
    : encodeQR('', 'raw', { ecc: 'low', encoding: 'byte', textEncoder: () => bytes, border: BORDER })

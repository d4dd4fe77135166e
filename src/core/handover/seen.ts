/** A QR code out of a picture: the door to the library that reads them. */
import decodeQR from 'qr/decode.js'

/** RGBA, four bytes a pixel, row by row. */
export interface Picture {
  width: number
  height: number
  data: Uint8Array | Uint8ClampedArray
}

/**
 * The text of the code in a picture, or null where none is read. @param patienceMs  for what is tried when the plain way fails; a frame
 * of a camera is followed by a better one, so little is best
 */
export function codeIn(picture: Picture, patienceMs = 30): string | null {
  try {
    return decodeQR(picture, { timeLimit: patienceMs })
  } catch {
    // The library's word for "none here".
    return null
  }
}

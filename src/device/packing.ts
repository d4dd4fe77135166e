/** Texts packed for sending: the browser's own deflate. Where it has none, the text goes as it is. */

/** The first byte says how the rest is to be read. */
const PLAIN = 0
const DEFLATED = 1

async function through(
  bytes: Uint8Array,
  stream: TransformStream,
  most = Number.POSITIVE_INFINITY,
): Promise<Uint8Array | null> {
  const reader = (new Blob([bytes as BlobPart]).stream().pipeThrough(stream) as ReadableStream<Uint8Array>).getReader()
  const pieces: Uint8Array[] = []
  let length = 0
  for (;;) {
    const { done, value } = await reader.read()
    if (done) break
    length += value.length
    if (length > most) {
      await reader.cancel()
      return null
    }
    pieces.push(value)
  }
  const whole = new Uint8Array(length)
  let at = 0
  for (const piece of pieces) {
    whole.set(piece, at)
    at += piece.length
  }
  return whole
}

export async function packed(text: string): Promise<Uint8Array> {
  const plain = new TextEncoder().encode(text)
  const deflated =
    typeof CompressionStream === 'function' ? await through(plain, new CompressionStream('deflate-raw')) : null
  const [form, content] = deflated && deflated.length < plain.length ? [DEFLATED, deflated] : [PLAIN, plain]
  const body = new Uint8Array(1 + content.length)
  body[0] = form
  body.set(content, 1)
  return body
}

/** @param most  bytes of the text; more than a field book may have is refused before it fills the phone. null: it cannot be unpacked here */
export async function unpacked(body: Uint8Array, most: number): Promise<string | null> {
  try {
    const content = body.subarray(1)
    const plain =
      body[0] === PLAIN
        ? content
        : body[0] === DEFLATED
          ? await through(content, new DecompressionStream('deflate-raw'), most)
          : null
    return plain === null ? null : new TextDecoder('utf-8', { fatal: true }).decode(plain)
  } catch {
    return null
  }
}

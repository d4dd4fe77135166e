/**
 * One file of the program: what the build recorded of it, and whether what is stored here or comes from a host is that file.
 * The SHA-256 decides. Status, redirect, type and length are looked at first, since they say why a host is wrong.
 */
export interface ProgramPart {
  /** Relative to the service worker's scope. */
  url: string
  bytes: number
  /** Lower-case hex. */
  sha256: string
  /** The type it is served with, whatever the host sends. */
  type: string
}

/** The types that a host may send for a file of each kind. A type that is not in this table is ignored: the hash decides. */
const CALLED: Readonly<Record<string, readonly string[]>> = {
  'text/html': ['text/html', 'application/xhtml+xml'],
  'text/javascript': ['text/javascript', 'application/javascript', 'application/x-javascript'],
  'text/css': ['text/css'],
  'application/json': ['application/json', 'application/manifest+json'],
  'application/manifest+json': ['application/json', 'application/manifest+json'],
  'image/svg+xml': ['image/svg+xml', 'application/xml', 'text/xml'],
  'image/png': ['image/png'],
  'font/woff2': ['font/woff2', 'application/font-woff2'],
}
const KNOWN = new Set(Object.values(CALLED).flat())

/** A host's answer that is not the part, with the reason in a few words. */
export class WrongPart extends Error {}

const plainType = (header: string | null): string => (header ?? '').split(';')[0]!.trim().toLowerCase()

export async function sha256(bytes: ArrayBuffer): Promise<string> {
  const digest = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes))
  return [...digest].map(byte => byte.toString(16).padStart(2, '0')).join('')
}

export const isPart = async (bytes: ArrayBuffer, part: ProgramPart): Promise<boolean> =>
  bytes.byteLength === part.bytes && (await sha256(bytes)) === part.sha256

/** The part as the page gets it. Always a new response: one that was redirected may not answer a navigation. */
export const responseOf = (bytes: ArrayBuffer, part: ProgramPart): Response =>
  new Response(bytes, {
    headers: {
      'content-type': part.type.startsWith('text/') ? `${part.type}; charset=utf-8` : part.type,
      'content-length': `${part.bytes}`,
    },
  })

/** The part as it lies in a cache, or null: not there, unreadable, or not what was built. */
export async function keptIn(cache: Cache, address: string, part: ProgramPart): Promise<ArrayBuffer | null> {
  try {
    const bytes = await (await cache.match(address))?.arrayBuffer()
    return bytes && (await isPart(bytes, part)) ? bytes : null
  } catch {
    return null // its file is gone from under the cache
  }
}

export interface Patience {
  /** How many times it is requested. */
  tries: number
  /** A host that sends nothing for this long has hung. A slow one is all right. */
  stallMs: number
  /** Before the second try; three times as long before the third, and so on. */
  waitMs: number
}

/**
 * The part from the host, past the browser's own cache, requested again when it is not what was built.
 *
 * @throws WrongPart  with the last reason
 */
export async function fetchPart(address: string, part: ProgramPart, patience: Patience): Promise<ArrayBuffer> {
  for (let attempt = 1; ; attempt++) {
    try {
      // The last time with a unique address, past a cache on the way that holds a wrong answer.
      const last = attempt > 1 && attempt === patience.tries
      return await fetchOnce(last ? `${address}?${part.sha256.slice(0, 8)}` : address, part, patience.stallMs)
    } catch (error) {
      const wrong = error instanceof WrongPart ? error : new WrongPart('no answer')
      if (attempt >= patience.tries) throw wrong
      await new Promise(resolve => setTimeout(resolve, patience.waitMs * 3 ** (attempt - 1)))
    }
  }
}

async function fetchOnce(address: string, part: ProgramPart, stallMs: number): Promise<ArrayBuffer> {
  const abort = new AbortController()
  let timer: ReturnType<typeof setTimeout> | undefined
  const hangs = new Promise<never>((_, reject) => {
    abort.signal.addEventListener('abort', () => reject(new WrongPart('the answer did not come to an end')))
  })
  hangs.catch(() => {})
  const progress = () => {
    clearTimeout(timer)
    timer = setTimeout(() => abort.abort(), stallMs)
  }
  const read = async (): Promise<ArrayBuffer> => {
    progress()
    // A redirect within the site may end at the same file ("index.html" at "./"); one that leads away fails here.
    const answer = await fetch(address, {
      cache: 'reload',
      credentials: 'same-origin',
      mode: 'same-origin',
      signal: abort.signal,
    })
    if (answer.status !== 200) throw new WrongPart(`status ${answer.status}`)
    const called = plainType(answer.headers.get('content-type'))
    if (KNOWN.has(called) && !CALLED[part.type]?.includes(called))
      throw new WrongPart(`${called}${answer.redirected ? ' after a redirect' : ''} instead of ${part.type}`)
    const chunks: Uint8Array[] = []
    let length = 0
    const reader = answer.body?.getReader()
    for (let next = await reader?.read(); next && !next.done; next = await reader!.read()) {
      progress()
      chunks.push(next.value)
      length += next.value.byteLength
      if (length > part.bytes) break
    }
    if (length !== part.bytes) {
      void reader?.cancel().catch(() => {})
      throw new WrongPart(length > part.bytes ? `longer than ${part.bytes} bytes` : `${length} of ${part.bytes} bytes`)
    }
    const bytes = new Uint8Array(length)
    let at = 0
    for (const chunk of chunks) {
      bytes.set(chunk, at)
      at += chunk.byteLength
    }
    if (!(await isPart(bytes.buffer, part))) throw new WrongPart('not the content that was built')
    return bytes.buffer
  }
  try {
    return await Promise.race([read(), hangs])
  } finally {
    clearTimeout(timer)
  }
}

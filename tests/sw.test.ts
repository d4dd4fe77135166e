/** The service worker itself, its events called one by one, on a phone in memory and a host that can be wrong. */
import { createHash } from 'node:crypto'
import { afterEach, describe, expect, it, vi } from 'vitest'
import type { ProgramPart } from '../src/offline/parts.ts'

const SCOPE = 'https://dish.example/moon/'
const FILES: Readonly<Record<string, [text: string, type: string]>> = {
  'index.html': ['<script src="assets/index-1.js"></script>', 'text/html'],
  'assets/index-1.js': ['draw()', 'text/javascript'],
  'assets/style-1.css': ['body{}', 'text/css'],
}
const partOf = (url: string): ProgramPart => {
  const [text, type] = FILES[url]!
  return { url, bytes: text.length, sha256: createHash('sha256').update(text).digest('hex'), type }
}

/** Cache Storage in memory. */
function cacheStorage() {
  const all = new Map<string, Map<string, Response>>()
  const urlOf = (request: RequestInfo) => (typeof request === 'string' ? request : request.url)
  const open = async (name: string) => {
    const entries = all.get(name) ?? new Map<string, Response>()
    all.set(name, entries)
    return {
      put: async (request: RequestInfo, response: Response) => void entries.set(urlOf(request), response),
      match: async (request: RequestInfo) => entries.get(urlOf(request))?.clone(),
      delete: async (request: RequestInfo) => entries.delete(urlOf(request)),
      keys: async () => [...entries.keys()].map(url => new Request(url)),
    }
  }
  const storage = { open, keys: async () => [...all.keys()], delete: async (name: string) => all.delete(name) }
  return { all, storage }
}

type Answer = { status?: number; text?: string; type?: string } | 'none'

/** A worker that has just been started there. */
async function worker(host: (url: string) => Answer = () => ({})) {
  vi.resetModules()
  const { all, storage } = cacheStorage()
  const events = new Map<string, (event: unknown) => void>()
  const told: { kind: string; faults: { url: string; why: string }[] }[] = []
  const asked: string[] = []
  vi.stubGlobal('caches', storage)
  vi.stubGlobal('fetch', async (address: string) => {
    const url = new URL(address).href.slice(SCOPE.length).replace(/\?.*/, '')
    asked.push(url)
    const answer = host(url)
    if (answer === 'none') throw new TypeError('no network')
    const [text, type] = FILES[url]!
    return new Response(answer.text ?? text, {
      status: answer.status ?? 200,
      headers: { 'content-type': answer.type ?? type },
    })
  })
  vi.stubGlobal('setTimeout', (act: () => void, ms = 0) => {
    if (ms < 5_000) queueMicrotask(act) // what it waits before it asks again; a host that hangs is not among these
    return 0
  })
  vi.stubGlobal('self', {
    __WB_MANIFEST: Object.keys(FILES).map(partOf),
    registration: { scope: SCOPE },
    addEventListener: (kind: string, act: (event: unknown) => void) => events.set(kind, act),
    clients: {
      matchAll: async () => [{ postMessage: (message: (typeof told)[number]) => told.push(message) }],
      claim: async () => {},
      get: async () => undefined,
    },
    skipWaiting: async () => {},
  })
  await import('../src/sw.ts')
  /** Settles as the event's work does. */
  const send = async (kind: string, more: object = {}): Promise<void> => {
    const work: Promise<unknown>[] = []
    events.get(kind)!({ waitUntil: (one: Promise<unknown>) => work.push(one), ...more })
    await Promise.all(work)
  }
  /** What a page gets for an address. */
  const get = async (url: string): Promise<Response> => {
    const answers: Promise<Response>[] = []
    events.get('fetch')!({
      request: new Request(SCOPE + url),
      clientId: 'page',
      respondWith: (one: Promise<Response>) => answers.push(one),
      waitUntil: () => {},
    })
    return answers[0]!
  }
  const version = () => [...all.keys()].find(name => name.startsWith('moonplumb-/moon/-'))
  const kept = () => [...(all.get(version() ?? '') ?? new Map()).keys()].map(url => url.slice(SCOPE.length)).sort()
  return { all, asked, send, get, told, kept, version }
}
afterEach(() => vi.unstubAllGlobals())

describe('installing', () => {
  it('keeps every part, as it was built', async () => {
    const one = await worker()
    await one.send('install')
    expect(one.kept()).toEqual(Object.keys(FILES).sort())
  })

  it('fails while a part is missing, says which, and the next one asks for that part alone', async () => {
    const one = await worker(url => (url.endsWith('.css') ? 'none' : {}))
    await expect(one.send('install')).rejects.toThrow(/assets\/style-1\.css: no answer/)
    expect(one.told).toMatchObject([{ kind: 'not-whole', faults: [{ url: 'assets/style-1.css' }] }])
  })

  it('takes no part that came with status 500, whatever its bytes, after three tries', async () => {
    const one = await worker(url => (url.endsWith('.js') ? { status: 500 } : {}))
    await expect(one.send('install')).rejects.toThrow(/status 500/)
    expect(one.kept()).not.toContain('assets/index-1.js')
    expect(one.asked.filter(url => url.endsWith('.js'))).toHaveLength(3)
  })

  it('takes no page for a script', async () => {
    const one = await worker(url => (url.endsWith('.js') ? { type: 'text/html' } : {}))
    await expect(one.send('install')).rejects.toThrow(/text\/html instead of text\/javascript/)
    expect(one.kept()).not.toContain('assets/index-1.js')
  })

  it('takes no part with another content of the same length', async () => {
    const one = await worker(url => (url.endsWith('.js') ? { text: 'dr@w()' } : {}))
    await expect(one.send('install')).rejects.toThrow(/not the content that was built/)
    expect(one.kept()).not.toContain('assets/index-1.js')
  })
})

describe('clearing away', () => {
  it('leaves the second copy of the book, and what is not ours, at activation and once the first screen stands', async () => {
    const one = await worker()
    const others = ['second-copy-of-moonplumb', 'moonplumb-/other/-0000000a', 'somebody-else']
    for (const name of [...others, 'moonplumb-/moon/-0000000b']) one.all.set(name, new Map())
    await one.send('install')
    await one.send('activate')
    expect([...one.all.keys()]).toEqual(expect.arrayContaining([...others, 'moonplumb-/moon/-0000000b']))
    await one.send('message', { data: { kind: 'drawn', entry: `${SCOPE}assets/index-1.js` }, ports: [], source: null })
    expect([...one.all.keys()]).toEqual(expect.arrayContaining(others))
    expect(one.all.has('moonplumb-/moon/-0000000b')).toBe(false)
    expect(one.kept()).toHaveLength(3)
  })

  it('keeps the version before until the newest has drawn its first screen', async () => {
    const one = await worker()
    one.all.set('moonplumb-/moon/-0000000b', new Map())
    await one.send('install')
    await one.send('activate')
    expect(one.all.has('moonplumb-/moon/-0000000b')).toBe(true)
  })
})

describe('a part that was damaged on the phone', () => {
  it('is never given to the page: it is fetched again, and kept', async () => {
    const one = await worker()
    await one.send('install')
    const cache = one.all.get(one.version()!)!
    cache.set(`${SCOPE}assets/index-1.js`, new Response('DRAW()'))
    one.asked.length = 0
    expect(await (await one.get('assets/index-1.js')).text()).toBe('draw()')
    expect(one.asked).toEqual(['assets/index-1.js'])
    expect(await cache.get(`${SCOPE}assets/index-1.js`)!.clone().text()).toBe('draw()')
  })
})

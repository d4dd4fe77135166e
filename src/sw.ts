/**
 * The service worker: everything the app is made of lies in one cache per version, whole or not at all. A new version
 * is fetched beside the old one and waits until the page says that the person wants it. Written by hand, so that the
 * page can ask what is missing.
 */
interface Part {
  url: string
  /** null: the name itself changes with the content. */
  revision: string | null
}
/** Filled in by the build. Written once, since the build replaces exactly one place. */
const PARTS = (self as unknown as { __WB_MANIFEST: Part[] }).__WB_MANIFEST
const sw = self as unknown as ServiceWorkerGlobalScope

const PREFIX = 'moonplumb-'
const KEY = 'x-moonplumb-revision'
const NAME = PREFIX + fingerprint(JSON.stringify(PARTS))
const addressOf = (url: string): string => new URL(url, sw.registration.scope).href
const HOME = 'index.html'
const KNOWN = new Set(PARTS.map(part => addressOf(part.url)))

/** FNV-1a, 32 bits: tells versions apart, protects nothing. */
function fingerprint(text: string): string {
  let hash = 0x811c9dc5
  for (let i = 0; i < text.length; i++) hash = Math.imul(hash ^ text.charCodeAt(i), 0x01000193)
  return (hash >>> 0).toString(16).padStart(8, '0')
}

/** Takes a part from an older cache when it is the same, else from the network, past the browser's own cache. */
async function fetchPart(cache: Cache, part: Part): Promise<void> {
  const address = addressOf(part.url)
  const wanted = part.revision ?? 'named'
  for (const name of (await caches.keys()).filter(name => name.startsWith(PREFIX))) {
    const old = await (await caches.open(name)).match(address)
    if (old && old.headers.get(KEY) === wanted) return cache.put(address, old)
  }
  const fresh = await fetch(address, { cache: 'reload', credentials: 'same-origin' })
  if (!fresh.ok) throw new Error(`${part.url}: ${fresh.status}`)
  // A new response: one that was redirected may not answer a navigation, and the encoding on the way is over.
  const headers = { 'content-type': fresh.headers.get('content-type') ?? 'application/octet-stream', [KEY]: wanted }
  await cache.put(address, new Response(await fresh.arrayBuffer(), { status: 200, headers }))
}

async function missing(): Promise<string[]> {
  const cache = await caches.open(NAME)
  const there = new Set((await cache.keys()).map(request => request.url))
  return PARTS.map(part => part.url).filter(url => !there.has(addressOf(url)))
}

sw.addEventListener('install', event => {
  const install = async () => {
    const cache = await caches.open(NAME)
    await Promise.all(PARTS.map(part => fetchPart(cache, part)))
  }
  event.waitUntil(install())
})

sw.addEventListener('activate', event => {
  const activate = async () => {
    const old = (await caches.keys()).filter(name => name.startsWith(PREFIX) && name !== NAME)
    await Promise.all(old.map(name => caches.delete(name)))
    await sw.clients.claim()
  }
  event.waitUntil(activate())
})

sw.addEventListener('message', event => {
  const [port] = event.ports
  if (event.data === 'take-over') event.waitUntil(sw.skipWaiting())
  if (event.data === 'what-is-missing' && port)
    event.waitUntil(missing().then(urls => port.postMessage({ missing: urls, parts: PARTS.length })))
})

sw.addEventListener('fetch', event => {
  const { request } = event
  const url = new URL(request.url)
  if (request.method !== 'GET' || url.origin !== sw.location.origin) return
  url.search = ''
  url.hash = ''
  const address = request.mode === 'navigate' ? addressOf(HOME) : url.href
  if (request.mode !== 'navigate' && !KNOWN.has(address)) return
  const answer = async () => {
    const kept = await (await caches.open(NAME)).match(address)
    return kept ?? fetch(request) // the system threw the cache away: the network, if there is one
  }
  event.respondWith(answer())
})

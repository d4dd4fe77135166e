/**
 * The service worker: all parts of the program are in one cache per version, complete or not at all, each part
 * checked by the hash that the build wrote into the list, when it arrives and whenever it is sent to a page. A new
 * version waits until the page says that the person wants it. The one before stays until the new one has drawn its first
 * screen; if it fails to do so twice, the one before is started again. Written by hand for that reason.
 */
import { fetchPart, keptIn, type Patience, type ProgramPart, responseOf, WrongPart } from './offline/parts.ts'
import { type Version, versionsAt } from './offline/versions.ts'

/** Filled in by the build. Written once, since the build replaces exactly one place. */
const PARTS = (self as unknown as { __WB_MANIFEST: ProgramPart[] }).__WB_MANIFEST
const sw = self as unknown as ServiceWorkerGlobalScope

const SHELL = 'index.html'
const versions = versionsAt(sw.registration.scope)
const NEWEST = versions.of(PARTS)

/** Nobody waits while a version is fetched; somebody does while a page needs a part. */
const AT_LEISURE: Patience = { tries: 3, stallMs: 20_000, waitMs: 1_000 }
const FOR_A_PAGE: Patience = { tries: 2, stallMs: 5_000, waitMs: 300 }
/** More at once only slows down each on a slow connection. */
const AT_ONCE = 6

/** A page that has drawn nothing for this long did not start; one whose script runs gets longer, its book may be large. */
const NOT_STARTED_MS = 8_000
const NOT_STARTED_ALIVE_MS = 30_000
/** A page that was left sooner than this says nothing about the version. */
const LEFT_SOON_MS = 3_000
const FAILURES = 2
/** A host that has sent this many wrong parts is not asked for the rest. */
const WRONG_ENOUGH = 3

interface Fault {
  url: string
  state: 'missing' | 'damaged'
  why: string
}

/** Acts on all of them, a few at a time. */
async function each<T>(things: readonly T[], act: (thing: T) => Promise<void>): Promise<void> {
  const left = [...things]
  const work = async () => {
    for (let next = left.shift(); next !== undefined; next = left.shift()) await act(next)
  }
  await Promise.all(Array.from({ length: AT_ONCE }, work))
}

/** The same part as another version keeps it, by its hash. */
async function fromOther(own: Version, part: ProgramPart): Promise<ArrayBuffer | null> {
  const address = versions.address(part.url)
  for (const name of await caches.keys()) {
    if (name === own.cache || !name.startsWith('moonplumb-')) continue
    const bytes = await keptIn(await caches.open(name), address, part)
    if (bytes) return bytes
  }
  return null
}

const askedFor = new Map<string, Promise<ArrayBuffer>>()

/** The part as it was built, put where it belongs. @throws WrongPart where neither phone nor host has it */
function obtain(version: Version, part: ProgramPart, patience: Patience): Promise<ArrayBuffer> {
  const address = versions.address(part.url)
  const key = `${version.cache} ${part.url}`
  const begun = askedFor.get(key)
  if (begun) return begun
  const work = async () => {
    const cache = await caches.open(version.cache)
    const kept = await keptIn(cache, address, part)
    if (kept) return kept
    const bytes = (await fromOther(version, part)) ?? (await fetchPart(address, part, patience))
    try {
      await cache.put(address, responseOf(bytes, part))
    } catch (error) {
      // A full phone: the page gets the part anyway, but the installation fails.
      if (patience === AT_LEISURE) throw new WrongPart(`not kept: ${String(error)}`)
    }
    return bytes
  }
  const obtained = work().finally(() => askedFor.delete(key))
  askedFor.set(key, obtained)
  return obtained
}

/** The parts of a version that are not on this phone as built. */
async function faultsOf(version: Version): Promise<Fault[]> {
  const faults: Fault[] = []
  const cache = await caches.open(version.cache)
  await each(version.parts, async part => {
    const address = versions.address(part.url)
    if (await keptIn(cache, address, part)) return
    const there = await cache.match(address).catch(() => undefined)
    faults.push({ url: part.url, state: there ? 'damaged' : 'missing', why: '' })
  })
  return faults
}

/** Fetches what is missing or damaged; returns what still is, and why. */
async function repair(version: Version, patience: Patience): Promise<Fault[]> {
  const still: Fault[] = []
  await each(await faultsOf(version), async fault => {
    const part = version.parts.find(p => p.url === fault.url)!
    try {
      await obtain(version, part, patience)
    } catch (error) {
      still.push({ ...fault, why: error instanceof WrongPart ? error.message : String(error) })
    }
  })
  if (still.length === 0) await versions.keptWhole(version)
  return still
}

/** The newest, unless it failed to start twice and one that did start is still here. */
async function chosen(): Promise<Version> {
  if ((await versions.failures(NEWEST)) < FAILURES) return NEWEST
  const good = await versions.lastGood(NEWEST)
  if (good) return good
  // Nothing to go back to: at least make sure that every part is right.
  await repair(NEWEST, FOR_A_PAGE)
  return NEWEST
}

/** Which version each page was given. The worker may be stopped in between: then it is chosen again. */
const given = new Map<string, Version>()
interface Waited {
  drawn(): void
  /** Its script runs, or it has run into an error. */
  alive(yes: boolean): void
  /** Another page is requested: the person has looked at an empty one long enough and is trying again. */
  overtaken(): Promise<void>
}
const waited = new Map<string, Waited>()

/** Waits for the first screen of the newest version, and notes when it does not come. */
async function watchStart(page: string, version: Version): Promise<void> {
  const began = Date.now()
  let limit = NOT_STARTED_MS
  let isOver = false
  let wake = () => {}
  let lived = 0
  const end = () => {
    isOver = true
    wake()
  }
  const fail = async () => {
    if (isOver || lived < LEFT_SOON_MS) return
    end()
    await versions.failed(version)
  }
  waited.set(page, {
    drawn: end,
    alive: yes => {
      limit = yes ? NOT_STARTED_ALIVE_MS : NOT_STARTED_MS
    },
    overtaken: async () => {
      if (limit === NOT_STARTED_MS) await fail()
    },
  })
  let seen = false
  while (!isOver && Date.now() - began < limit) {
    await new Promise<void>(resolve => {
      wake = resolve
      setTimeout(resolve, 500)
    })
    const there = page === '' || (await sw.clients.get(page)) !== undefined
    if (there) lived = Date.now() - began
    if (seen && !there) break
    seen ||= there
  }
  await fail()
  waited.delete(page)
}

const isCode = (part: ProgramPart): boolean => /javascript|css/.test(part.type)
/** The parts that a first screen cannot be drawn without: the scripts and styles that the shell names. */
const firstParts = (version: Version, html: string): ProgramPart[] =>
  version.parts.filter(part => isCode(part) && html.includes(part.url))

/** The shell, once what it needs is on this phone as built; null when that fails. */
async function shellOf(version: Version): Promise<Response | null> {
  const shell = version.parts.find(part => part.url === SHELL)
  if (!shell) return null
  try {
    const bytes = await obtain(version, shell, FOR_A_PAGE)
    await each(firstParts(version, new TextDecoder().decode(bytes)), async part => {
      await obtain(version, part, FOR_A_PAGE)
    })
    return responseOf(bytes, shell)
  } catch {
    return null
  }
}

/** What a navigation gets, and of which version; null: nothing complete is left here, so the host answers. */
async function answerNavigation(event: FetchEvent): Promise<{ shell: Response; version: Version | null }> {
  await Promise.all([...waited.values()].map(page => page.overtaken()))
  const wanted = await chosen()
  for (const next of [async () => wanted, () => versions.lastGood(wanted), async () => NEWEST]) {
    const version = await next()
    const shell = version && (await shellOf(version))
    if (!shell) continue
    given.set(event.resultingClientId, version)
    return { shell, version }
  }
  return { shell: await fetch(event.request), version: null }
}

async function answerPart(event: FetchEvent, address: string): Promise<Response> {
  const first = given.get(event.clientId) ?? (await chosen())
  const find = (list: readonly Version[]) => {
    for (const version of list) {
      const part = version.parts.find(p => versions.address(p.url) === address)
      if (part) return { version, part }
    }
    return null
  }
  const found = find([first, NEWEST]) ?? find(await versions.all())
  if (!found) return fetch(event.request)
  try {
    return responseOf(await obtain(found.version, found.part, FOR_A_PAGE), found.part)
  } catch {
    // Never a script or a style of another version.
    return isCode(found.part) ? Response.error() : fetch(event.request)
  }
}

async function pages(): Promise<readonly Client[]> {
  return sw.clients.matchAll({ type: 'window', includeUncontrolled: true })
}

sw.addEventListener('install', event => {
  const install = async () => {
    await versions.expect(NEWEST)
    const faults: Fault[] = []
    await each(PARTS, async part => {
      if (faults.length >= WRONG_ENOUGH) return
      try {
        await obtain(NEWEST, part, AT_LEISURE)
      } catch (error) {
        const why = error instanceof WrongPart ? error.message : String(error)
        faults.push({ url: part.url, state: 'missing', why })
      }
    })
    if (faults.length > 0) {
      for (const page of await pages()) page.postMessage({ kind: 'not-whole', faults })
      throw new Error(`${faults.length} parts: ${faults[0]!.url}: ${faults[0]!.why}`)
    }
    await versions.keptWhole(NEWEST)
    await versions.forgive(NEWEST)
  }
  event.waitUntil(install())
})

sw.addEventListener('activate', event => {
  const activate = async () => {
    await sw.clients.claim()
    await versions.expect(null)
  }
  event.waitUntil(activate())
})

/** The state of the versions, for the page that asks. */
async function look(version: Version) {
  const faults = await faultsOf(version)
  const urls = version.parts.map(part => part.url)
  return { version: version.id, parts: urls.length, urls, faults, fellBack: version.id !== NEWEST.id }
}

/** A page's first screen stands: its version starts, and older ones are no longer needed. */
async function drawn(page: string, entry: string): Promise<void> {
  const waiting = waited.get(page) ?? waited.get('') // Safari before 16.4 does not say whose page it will be
  waiting?.drawn()
  // A page that came from the host, before there was a service worker, is of the version that has its script.
  const has = (version: Version) => version.parts.some(part => versions.address(part.url) === entry)
  const served = given.get(page) ?? (await chosen())
  const version = has(served) ? served : [NEWEST, ...(await versions.all())].find(has)
  if (!version) return
  await versions.started(version)
  if (version.id !== NEWEST.id) return
  await versions.forgive(NEWEST)
  await versions.clear([NEWEST])
}

sw.addEventListener('message', event => {
  const [port] = event.ports
  const page = event.source && 'id' in event.source ? event.source.id : ''
  const mine = async () => given.get(page) ?? (await chosen())
  const answer = (work: () => Promise<unknown>) =>
    event.waitUntil(
      work().then(
        value => port?.postMessage(value),
        error => port?.postMessage({ failed: String(error) }),
      ),
    )
  const message: unknown = event.data
  const kind = typeof message === 'object' && message !== null && 'kind' in message ? message.kind : message
  switch (kind) {
    case 'take-over':
      event.waitUntil(sw.skipWaiting())
      break
    case 'claim':
      event.waitUntil(sw.clients.claim())
      break
    case 'what-is-missing':
      answer(async () => {
        const { faults, parts } = await look(await mine())
        return { missing: faults.map(fault => fault.url), parts }
      })
      break
    case 'look':
      answer(async () => look(await mine()))
      break
    case 'repair':
      answer(async () => {
        const version = await mine()
        const still = await repair(version, FOR_A_PAGE)
        return { ...(await look(version)), faults: still }
      })
      break
    case 'alive':
    case 'stumbled':
      waited.get(page)?.alive(kind === 'alive')
      break
    case 'drawn':
      event.waitUntil(drawn(page, (message as { entry: string }).entry))
      break
    case 'try-newest':
      answer(async () => {
        await versions.forgive(NEWEST)
        return repair(NEWEST, FOR_A_PAGE)
      })
      break
  }
})

sw.addEventListener('fetch', event => {
  const { request } = event
  const url = new URL(request.url)
  if (request.method !== 'GET' || !url.href.startsWith(sw.registration.scope)) return
  url.search = ''
  url.hash = ''
  if (request.mode !== 'navigate') {
    event.respondWith(answerPart(event, url.href))
    return
  }
  // Only the program's own address: there may be another installation below it that is not here yet.
  if (url.href !== sw.registration.scope && url.href !== versions.address(SHELL)) return
  const answer = answerNavigation(event)
  event.respondWith(answer.then(({ shell }) => shell))
  event.waitUntil(
    answer.then(({ version }) =>
      version?.id === NEWEST.id ? watchStart(event.resultingClientId, version) : undefined,
    ),
  )
})

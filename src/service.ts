/**
 * Installing, updating and being complete offline. Versions are never changed unasked: a new one waits until
 * `applyUpdate` is called, and that does nothing while something is being measured.
 */
import { type ReadonlySignal, signal } from '@preact/signals'
import { sayDrawn } from './starting.ts'
import { measuring, type OfflineState, type RefusedPart, type UpdateState } from './state/service.ts'

export { measuring, type OfflineState, type PartState, type RefusedPart, type UpdateState } from './state/service.ts'

/** What the service worker says about the version that this page is of (`src/sw.ts`). */
interface Looked {
  parts: number
  urls: readonly string[]
  faults: readonly { url: string; state: 'missing' | 'damaged'; why: string }[]
  fellBack: boolean
}

const CHECK_EVERY_MS = 3_600_000
/** Wait after a version could not be fetched whole; doubled after every further failure. */
const CHECK_AGAIN_MS = 60_000
/** iOS may not send `controllerchange` after the new worker took over: the page is then reloaded after this. */
const RELOAD_AFTER_MS = 3_000
/** By then a worker that failed has said why. */
const SAYS_WHY_MS = 1_000

const state = signal<UpdateState>('none')
const offline = signal<OfflineState>({ kind: 'unknown' })
const isOlder = signal(false)
const refusedParts = signal<readonly RefusedPart[]>([])
/** The newest version did not start, and this page is of the last one that did. */
export const fellBack: ReadonlySignal<boolean> = isOlder
export const refused: ReadonlySignal<readonly RefusedPart[]> = refusedParts
export const update: ReadonlySignal<UpdateState> = state
export const offlineState: ReadonlySignal<OfflineState> = offline

let registration: ServiceWorkerRegistration | undefined
let lastCheckMs = 0
let reloaded = false
let refusals = 0
let soon: ReturnType<typeof setTimeout> | undefined

function reloadOnce(): void {
  if (reloaded) return
  reloaded = true
  location.reload()
}

function watch(found: ServiceWorkerRegistration): void {
  const look = () => {
    const { waiting } = found
    // WebKit's events lag its registration: a worker that has begun to take over may still be listed as waiting.
    if (waiting?.state === 'installed' && navigator.serviceWorker.controller && state.value === 'none')
      state.value = 'ready-to-update'
  }
  let followed: ServiceWorker | null = null
  const follow = (worker: ServiceWorker | null) => {
    if (worker === null || worker === followed) return
    followed = worker
    const before = refusals
    let isFetched = false
    worker.addEventListener('statechange', () => {
      look()
      if (worker.state === 'installed') {
        isFetched = true
        refusedParts.value = []
        refusals = 0
      }
      if (worker.state === 'activated') void checkOffline()
      // Usually it says itself what was wrong. A page that came after it said so, or whose browser stopped it, hears nothing.
      if (worker.state === 'redundant' && !isFetched)
        setTimeout(() => {
          if (refusals === before) refuse(refusedParts.value)
        }, SAYS_WHY_MS)
    })
  }
  look()
  // Begun by another page, or a moment ago by this one: no event will say so.
  follow(found.installing)
  found.addEventListener('updatefound', () => follow(found.installing))
}

async function register(): Promise<ServiceWorkerRegistration | undefined> {
  try {
    const found = await navigator.serviceWorker.register('./sw.js', { updateViaCache: 'none' })
    if (found) watch(found)
    return found
  } catch {
    return undefined
  }
}

/** What the host sends in place of the service worker's own script; null when the script is right. */
async function wrongWorker(): Promise<RefusedPart | null> {
  const url = 'sw.js'
  try {
    const answer = await fetch(`./${url}`, { cache: 'no-store' })
    const type = answer.headers.get('content-type') ?? ''
    if (answer.status !== 200) return { url, why: `status ${answer.status}` }
    return /javascript/.test(type)
      ? null
      : { url, why: `${type.split(';')[0] || 'no type'} instead of text/javascript` }
  } catch {
    return { url, why: 'no answer' }
  }
}

/** A host did not send a version whole: look again soon, since it may be in the middle of an update. */
function refuse(parts: readonly RefusedPart[]): void {
  refusedParts.value = parts
  const waitMs = Math.min(CHECK_EVERY_MS, CHECK_AGAIN_MS * 2 ** refusals++)
  lastCheckMs = Date.now() - CHECK_EVERY_MS + waitMs
  clearTimeout(soon)
  if (document.visibilityState !== 'visible') return
  soon = setTimeout(() => {
    lastCheckMs = 0 // a timer may end a moment before the clock says so
    void checkForUpdate()
  }, waitMs)
}

/** Registers the service worker and looks for a new version when the page comes back. Call once, after the first screen. */
export async function startService(): Promise<void> {
  if (!import.meta.env.PROD || !('serviceWorker' in navigator)) {
    offline.value = { kind: 'absent' }
    return
  }
  const { serviceWorker } = navigator
  let { controller } = serviceWorker
  serviceWorker.addEventListener('controllerchange', () => {
    const before = controller
    controller = serviceWorker.controller
    if (state.value === 'updating') reloadOnce()
    // Only another worker is another version. (WebKit, on a loaded machine, once offered one to a first visit.)
    else if (before !== null && controller !== null && controller !== before) state.value = 'reload-needed'
    controller ??= before
    sayDrawn()
    void checkOffline()
  })
  serviceWorker.addEventListener('message', ({ data }) => {
    if (data?.kind === 'not-whole') refuse(data.faults)
  })
  registration = await register()
  if (!registration) {
    const wrong = await wrongWorker()
    // Where a browser is set to allow no service worker, register() fails or resolves to nothing, and the host is not at fault.
    if (wrong === null) {
      offline.value = { kind: 'absent' }
      return
    }
    refuse([wrong])
  } else lastCheckMs = Date.now() // registering has checked already
  // A page that was on its way while the worker became active was not claimed with the others: its parts would come from the host.
  if (serviceWorker.controller === null) registration?.active?.postMessage({ kind: 'claim' })
  const back = () => {
    if (document.visibilityState === 'visible') void checkForUpdate()
    else clearTimeout(soon)
  }
  document.addEventListener('visibilitychange', back)
  window.addEventListener('pageshow', back)
  window.addEventListener('online', () => {
    void mendOffline()
    void checkForUpdate()
  })
  await mendOffline()
}

/** Fetches again what has gone missing or been damaged since installation. */
export async function mendOffline(): Promise<OfflineState> {
  const before = await checkOffline()
  if (before.kind !== 'incomplete' || !navigator.onLine) return before
  await ask<Looked>('repair', 60_000)
  return checkOffline()
}

/** At most once an hour, only with a network, never during a measurement. */
export async function checkForUpdate(): Promise<void> {
  const since = Date.now() - lastCheckMs
  if (
    (!registration && refusals === 0) ||
    !navigator.onLine ||
    measuring.value ||
    (since >= 0 && since < CHECK_EVERY_MS)
  )
    return
  lastCheckMs = Date.now()
  try {
    // A first version that did not arrive whole is gone, with its registration.
    const { active, waiting, installing } = registration ?? {}
    if (registration && (refusals === 0 || active || waiting || installing)) await registration.update()
    else registration = (await register()) ?? registration
  } catch {
    // no network after all
  }
}

/** What the person asked for. 'measuring': not now; 'nothing': no new version is there. */
export function applyUpdate(): 'measuring' | 'nothing' | 'updating' {
  if (measuring.value) return 'measuring'
  if (state.value === 'reload-needed') {
    reloadOnce()
    return 'updating'
  }
  const waiting = registration?.waiting
  if (!waiting) return 'nothing'
  state.value = 'updating'
  waiting.postMessage('take-over')
  setTimeout(reloadOnce, RELOAD_AFTER_MS)
  return 'updating'
}

function ask<T>(kind: string, patienceMs: number): Promise<T | null> {
  const worker = registration?.active
  if (!worker) return Promise.resolve(null)
  return new Promise(resolve => {
    const channel = new MessageChannel()
    const limit = setTimeout(() => resolve(null), patienceMs)
    channel.port1.onmessage = event => {
      clearTimeout(limit)
      channel.port1.close()
      resolve(event.data)
    }
    worker.postMessage({ kind }, [channel.port2])
  })
}

let looks = 0
let lastSeen = 0

/**
 * Asks the service worker whether every part of this version lies on the phone as it was built. Answers can come out of order: one to
 * an earlier question than the last answered is left alone.
 */
export async function checkOffline(): Promise<OfflineState> {
  looks += 1
  const mine = looks
  const looked = await ask<Looked>('look', 10_000)
  if (!looked?.faults || mine < lastSeen) return offline.value
  lastSeen = mine
  const of = (state: 'missing' | 'damaged') => looked.faults.filter(f => f.state === state).map(f => f.url)
  isOlder.value = looked.fellBack
  const list = looked.urls.map(
    url => ({ url, state: looked.faults.find(f => f.url === url)?.state ?? 'whole' }) as const,
  )
  offline.value =
    looked.faults.length === 0
      ? { kind: 'complete', parts: looked.parts, list }
      : { kind: 'incomplete', missing: of('missing'), damaged: of('damaged'), list }
  return offline.value
}

/** What the person asked for on a page that fell back. */
export async function tryNewest(): Promise<void> {
  await ask('try-newest', 60_000)
  reloadOnce()
}

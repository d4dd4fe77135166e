/**
 * Installing, updating and being complete without a network. Versions are never swapped unasked: a new one waits until
 * `applyUpdate` is called, and that does nothing while something is being measured.
 */
import { type ReadonlySignal, signal } from '@preact/signals'

export type UpdateState =
  | 'none'
  /** A new version lies on the phone, whole, and waits for the person. */
  | 'ready-to-update'
  | 'updating'
  /** Another tab of this phone has taken the new version: this page is the old one and should be loaded again. */
  | 'reload-needed'

export type OfflineState =
  | { kind: 'unknown' }
  /** No service worker here: plain http, a private window, or the development server. */
  | { kind: 'absent' }
  | { kind: 'incomplete'; missing: readonly string[]; damaged?: readonly string[] }
  | { kind: 'complete'; parts: number }

/** A part that a host sent otherwise than it was built. */
export interface RefusedPart {
  url: string
  why: string
}

/** What the service worker says about the version that this page is of (`src/sw.ts`). */
interface Looked {
  parts: number
  faults: readonly { url: string; state: 'missing' | 'damaged'; why: string }[]
  fellBack: boolean
}

const CHECK_EVERY_MS = 3_600_000
/** After a version could not be fetched whole. */
const CHECK_AGAIN_MS = 60_000
/** iOS may not say `controllerchange` after the new worker took over: then the page is loaded again after this. */
const RELOAD_AFTER_MS = 3_000

const state = signal<UpdateState>('none')
const offline = signal<OfflineState>({ kind: 'unknown' })
const isOlder = signal(false)
const refusedParts = signal<readonly RefusedPart[]>([])
/** The newest version did not start, and this page is of the last one that did. */
export const fellBack: ReadonlySignal<boolean> = isOlder
export const refused: ReadonlySignal<readonly RefusedPart[]> = refusedParts
export const update: ReadonlySignal<UpdateState> = state
export const offlineState: ReadonlySignal<OfflineState> = offline
/** True from the start of a measurement to its end: set by whoever measures. */
export const measuring = signal(false)

let registration: ServiceWorkerRegistration | undefined
let lastCheckMs = 0
let reloaded = false
/** The address of this page's own script, once its first screen stands. */
let entry: string | undefined

function reloadOnce(): void {
  if (reloaded) return
  reloaded = true
  location.reload()
}

/** Tells the worker that the script runs: it waits longer for the first screen then. */
export function sayAlive(): void {
  if (import.meta.env.PROD) workers()?.controller?.postMessage({ kind: 'alive' })
}

/** Call when the first screen stands: the worker takes this version for one that starts. @param address  of its script */
export function firstScreenStands(address: string): void {
  entry = address
  try {
    sessionStorage.removeItem('moonplumb.not-started') // public/notstarted.js counts there
  } catch {
    // storage switched off
  }
  sayDrawn()
}
function sayDrawn(): void {
  if (entry !== undefined && import.meta.env.PROD) workers()?.controller?.postMessage({ kind: 'drawn', entry })
}
const workers = (): ServiceWorkerContainer | undefined =>
  'serviceWorker' in navigator ? navigator.serviceWorker : undefined

function watch(found: ServiceWorkerRegistration): void {
  const look = () => {
    if (found.waiting && navigator.serviceWorker.controller && state.value === 'none') state.value = 'ready-to-update'
  }
  look()
  found.addEventListener('updatefound', () => {
    const worker = found.installing
    worker?.addEventListener('statechange', () => {
      look()
      if (worker.state === 'installed') refusedParts.value = []
      if (worker.state === 'activated') void checkOffline()
    })
  })
}

/** Registers the service worker and looks for a new version when the page comes back. Call once, after the first screen. */
export async function startService(): Promise<void> {
  if (!import.meta.env.PROD || !('serviceWorker' in navigator)) {
    offline.value = { kind: 'absent' }
    return
  }
  const { serviceWorker } = navigator
  let controlled = serviceWorker.controller !== null
  serviceWorker.addEventListener('controllerchange', () => {
    if (state.value === 'updating') reloadOnce()
    else if (controlled) state.value = 'reload-needed'
    controlled = true
    sayDrawn()
    void checkOffline()
  })
  serviceWorker.addEventListener('message', ({ data }) => {
    if (data?.kind !== 'not-whole') return
    refusedParts.value = data.faults
    // Looked for again soon, not in an hour: a host may be in the middle of taking the new version.
    lastCheckMs = Date.now() - CHECK_EVERY_MS + CHECK_AGAIN_MS
  })
  try {
    registration = await serviceWorker.register('./sw.js', { updateViaCache: 'none' })
  } catch {
    registration = undefined
  }
  // Where a browser is set to allow none, register() may also resolve to nothing.
  if (!registration) {
    offline.value = { kind: 'absent' }
    return
  }
  lastCheckMs = Date.now() // registering looked already
  watch(registration)
  const back = () => {
    if (document.visibilityState === 'visible') void checkForUpdate()
  }
  document.addEventListener('visibilitychange', back)
  window.addEventListener('pageshow', back)
  window.addEventListener('online', () => {
    void mend()
    void checkForUpdate()
  })
  await mend()
}

/** Fetches again what has gone missing or bad since it was installed. */
async function mend(): Promise<void> {
  if ((await checkOffline()).kind !== 'incomplete' || !navigator.onLine) return
  await ask<Looked>('repair', 60_000)
  await checkOffline()
}

/** At most once an hour, only with a network, never during a measurement. */
export async function checkForUpdate(): Promise<void> {
  const since = Date.now() - lastCheckMs
  if (!registration || !navigator.onLine || measuring.value || (since >= 0 && since < CHECK_EVERY_MS)) return
  lastCheckMs = Date.now()
  try {
    await registration.update()
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

/** Asks the service worker whether every part of this version lies on the phone as it was built. */
export async function checkOffline(): Promise<OfflineState> {
  const looked = await ask<Looked>('look', 10_000)
  if (!looked?.faults) return offline.value
  const of = (state: 'missing' | 'damaged') => looked.faults.filter(f => f.state === state).map(f => f.url)
  isOlder.value = looked.fellBack
  offline.value =
    looked.faults.length === 0
      ? { kind: 'complete', parts: looked.parts }
      : { kind: 'incomplete', missing: of('missing'), damaged: of('damaged') }
  return offline.value
}

/** What the person asked for on a page that fell back. */
export async function tryNewest(): Promise<void> {
  await ask('try-newest', 60_000)
  reloadOnce()
}

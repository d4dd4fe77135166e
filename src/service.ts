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
  | { kind: 'incomplete'; missing: readonly string[] }
  | { kind: 'complete'; parts: number }

const CHECK_EVERY_MS = 3_600_000
/** iOS may not say `controllerchange` after the new worker took over: then the page is loaded again after this. */
const RELOAD_AFTER_MS = 3_000

const state = signal<UpdateState>('none')
const offline = signal<OfflineState>({ kind: 'unknown' })
export const update: ReadonlySignal<UpdateState> = state
export const offlineState: ReadonlySignal<OfflineState> = offline
/** True from the start of a measurement to its end: set by whoever measures. */
export const measuring = signal(false)

let registration: ServiceWorkerRegistration | undefined
let lastCheckMs = 0
let reloaded = false

function reloadOnce(): void {
  if (reloaded) return
  reloaded = true
  location.reload()
}

function watch(found: ServiceWorkerRegistration): void {
  const look = () => {
    if (found.waiting && navigator.serviceWorker.controller && state.value === 'none') state.value = 'ready-to-update'
  }
  look()
  found.addEventListener('updatefound', () => {
    const worker = found.installing
    worker?.addEventListener('statechange', () => {
      look()
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
    void checkOffline()
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

/** Asks the service worker whether every part of this version lies on the phone. */
export async function checkOffline(): Promise<OfflineState> {
  const worker = registration?.active
  if (!worker) return offline.value
  const answer = await new Promise<{ missing: string[]; parts: number } | null>(resolve => {
    const channel = new MessageChannel()
    const limit = setTimeout(() => resolve(null), 5_000)
    channel.port1.onmessage = event => {
      clearTimeout(limit)
      channel.port1.close()
      resolve(event.data)
    }
    worker.postMessage('what-is-missing', [channel.port2])
  })
  if (answer)
    offline.value =
      answer.missing.length === 0
        ? { kind: 'complete', parts: answer.parts }
        : { kind: 'incomplete', missing: answer.missing }
  return offline.value
}

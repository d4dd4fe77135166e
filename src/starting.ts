/**
 * What a page tells the service worker of its start: that its script runs, and that its first screen stands. By that the worker
 * knows which version starts (`src/sw.ts`).
 */

/** The address of this page's own script, once its first screen stands. */
let entry: string | undefined

/** Tells the worker that the script runs: it then waits longer for the first screen, unless an error comes first. */
export function sayAlive(): void {
  if (!import.meta.env.PROD) return
  const say = (kind: string) => workers()?.controller?.postMessage({ kind })
  say('alive')
  const stumble = () => {
    if (entry === undefined) say('stumbled')
  }
  window.addEventListener('error', stumble)
  window.addEventListener('unhandledrejection', stumble)
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
/** Says it again to a worker that took over meanwhile. */
export function sayDrawn(): void {
  if (entry !== undefined && import.meta.env.PROD) workers()?.controller?.postMessage({ kind: 'drawn', entry })
}
const workers = (): ServiceWorkerContainer | undefined =>
  'serviceWorker' in navigator ? navigator.serviceWorker : undefined

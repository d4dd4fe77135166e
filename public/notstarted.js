/**
 * When no first screen stands some seconds after the page has loaded: the browser may keep a wrong answer that a host
 * once gave for a script, for as long as a year, and loading again does not ask anew. The service worker does, and checks
 * what comes. So it is registered here, apart from the program, and the page is loaded again when it has everything.
 * At most three times in a visit: the third time the worker gives the last version that did start.
 */
;(() => {
  const KEY = 'moonplumb.not-started'
  const hasNotStarted = () => document.getElementById('not-started') !== null
  const hasDrawnNothing = () => document.getElementById('app')?.childElementCount === 0

  const times = () => {
    try {
      const count = Number(sessionStorage.getItem(KEY) ?? 0) + 1
      sessionStorage.setItem(KEY, `${count}`)
      return count
    } catch {
      return Number.POSITIVE_INFINITY // without a memory it might never stop
    }
  }

  const mend = async () => {
    const workers = navigator.serviceWorker
    if (!workers || times() > 3) return
    if (!workers.controller) {
      const taken = new Promise(resolve => workers.addEventListener('controllerchange', resolve, { once: true }))
      const policy = globalThis.trustedTypes?.createPolicy('not-started', { createScriptURL: () => './sw.js' })
      await workers.register(policy?.createScriptURL('') ?? './sw.js', { updateViaCache: 'none' })
      await taken
    }
    if (hasNotStarted()) location.reload()
  }

  const look = () => {
    if (hasNotStarted() && hasDrawnNothing()) mend().catch(() => {})
  }
  const whenLoaded = () => {
    setTimeout(look, navigator.serviceWorker?.controller ? 9_000 : 12_000)
    setTimeout(() => hasNotStarted() && mend().catch(() => {}), 31_000)
  }
  if (document.readyState === 'complete') whenLoaded()
  else addEventListener('load', whenLoaded)
})()

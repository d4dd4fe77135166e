/**
 * The program on a phone whose host goes wrong: what a test does to it, and what it looks at afterwards. Versions are
 * made from one build; their scripts say which version they are of (`tests/browser/variants.mjs`).
 */
import type { BrowserContext, Page } from '@playwright/test'
import type { BadHost } from './badhost.ts'

declare global {
  /** The version of each script that has run. */
  var ran: string[] | undefined
}

/** Opens the program and waits until a service worker of its own serves it, whole. */
export async function install(context: BrowserContext, host: BadHost): Promise<Page> {
  const page = await context.newPage()
  await page.goto(host.url)
  await installed(page)
  return page
}

export async function installed(page: Page): Promise<void> {
  await page.evaluate(async () => {
    await navigator.serviceWorker.register('./sw.js', { updateViaCache: 'none' })
    await navigator.serviceWorker.ready
    if (!navigator.serviceWorker.controller)
      await new Promise(resolve =>
        navigator.serviceWorker.addEventListener('controllerchange', resolve, { once: true }),
      )
  })
}

/** The service worker has heard that this version starts. */
export async function knownToStart(page: Page): Promise<void> {
  await page.locator('main').first().waitFor()
  await page.waitForFunction(async () => {
    const name = (await caches.keys()).find(n => n.startsWith('facts-of-moonplumb-'))
    const keys = name ? await (await caches.open(name)).keys() : []
    return keys.some(request => request.url.includes('/facts/started/'))
  })
}

/** A record in the book, to be looked for afterwards. */
export async function writeBook(page: Page): Promise<void> {
  await page.getByRole('button', { name: 'Open the demo' }).click()
  await page.getByText('Demo: invented').first().waitFor()
}

/** Looks for a new version now; 'waiting' when it is on the phone, 'refused' when it could not be had whole. */
export const lookForUpdate = (page: Page): Promise<'waiting' | 'refused' | 'same'> =>
  page.evaluate(async () => {
    const registration = await navigator.serviceWorker.ready
    try {
      await registration.update()
    } catch {
      return 'refused'
    }
    const worker = registration.installing
    if (!worker) return registration.waiting ? 'waiting' : 'same'
    return new Promise<'waiting' | 'refused'>(resolve => {
      const see = () => {
        if (worker.state === 'installed') resolve('waiting')
        if (worker.state === 'redundant') resolve('refused')
      }
      worker.addEventListener('statechange', see)
      see()
    })
  })

/** The person has pressed "Change to the new version", and the page is loaded again. */
export async function takeOver(page: Page): Promise<void> {
  // Chromium lets a worker wait that is told to take over while the active one is still at work.
  await page.waitForTimeout(500)
  await page.evaluate(async () => {
    const registration = await navigator.serviceWorker.ready
    const taken = new Promise(resolve => navigator.serviceWorker.addEventListener('controllerchange', resolve))
    registration.waiting!.postMessage('take-over')
    await taken
  })
  await page.reload()
}

export type Damage = 'lost' | 'damaged' | 'emptied'

/** What a phone short of room, or a torn write, does to one part of the program. */
export const damage = (page: Page, url: string, how: Damage): Promise<number> =>
  page.evaluate(
    async ([part, what]) => {
      let done = 0
      for (const name of await caches.keys()) {
        const cache = await caches.open(name)
        const address = new URL(part, location.href.replace(/[^/]*$/, '')).href
        const kept = await cache.match(address)
        if (!kept || name.startsWith('second-copy')) continue
        done++
        if (what === 'lost') await cache.delete(address)
        else {
          const bytes = new Uint8Array(what === 'emptied' ? new ArrayBuffer(0) : await kept.arrayBuffer())
          if (bytes.length > 0) bytes[bytes.length >> 1]! ^= 1
          await cache.put(address, new Response(bytes, { headers: kept.headers }))
        }
      }
      return done
    },
    [url, how] as const,
  )

export interface Seen {
  /** "v1", "v2"…: the title's; '' when it is not the program's page. */
  shell: string
  /** Versions of the scripts that ran; one, when nothing is mixed. */
  scripts: string[]
  /** A first screen stands. */
  drawn: boolean
  /** Where it does not: what to do is said. */
  said: boolean
  /** Records in the book. */
  records: number
}

/** What a person sees some seconds after opening the page; a page that mends itself loads itself again meanwhile. */
export async function see(page: Page, patienceMs = 12_000): Promise<Seen> {
  for (let loads = 0; ; loads++)
    try {
      return await seeOnce(page, patienceMs)
    } catch (error) {
      if (loads === 2 || !String(error).includes('Execution context was destroyed')) throw error
      await page.waitForLoadState()
    }
}

async function seeOnce(page: Page, patienceMs: number): Promise<Seen> {
  const shell = (await page.title()).match(/^Moonplumb (\w+)$/)?.[1] ?? ''
  const drawn = await page
    .waitForFunction(() => document.querySelector('#app main') && !document.querySelector('#not-started'), null, {
      timeout: patienceMs,
    })
    .then(
      () => true,
      () => false,
    )
  // All places are loaded once the first screen stands.
  if (drawn)
    await page.waitForFunction(() => (globalThis.ran?.length ?? 0) >= 12, null, { timeout: 10_000 }).catch(() => {})
  const rest = await page.evaluate(async () => {
    const { databases } = indexedDB
    const there = (await databases.call(indexedDB)).some(db => db.name === 'moonplumb')
    const records = !there
      ? 0
      : await new Promise<number>(resolve => {
          const opening = indexedDB.open('moonplumb')
          opening.onerror = () => resolve(-1)
          opening.onsuccess = () => {
            const db = opening.result
            const count = db.transaction('records').objectStore('records').count()
            count.onsuccess = () => {
              db.close()
              resolve(count.result)
            }
          }
        })
    return {
      scripts: [...new Set(globalThis.ran ?? [])],
      said: document.querySelector('#not-started') !== null || document.body.textContent.includes('Sign in'),
      records,
    }
  })
  return { shell, drawn, ...rest }
}

/** The program opened afresh with the network off. */
export async function openOffline(context: BrowserContext, host: BadHost): Promise<Seen> {
  await host.stop()
  await context.setOffline(true)
  const page = await context.newPage()
  await page.goto(host.url).catch(() => {})
  return see(page)
}

/** One version's shell with that version's scripts and no other. */
export const isOne = (seen: Seen, tag: string): boolean =>
  seen.drawn && seen.shell === tag && seen.scripts.length === 1 && seen.scripts[0] === tag

/** What the worker says of its parts, each by its hash. */
export const askWorker = (
  page: Page,
  kind: 'look' | 'repair',
): Promise<{ parts: number; faults: { url: string; state: string; why: string }[]; fellBack: boolean }> =>
  page.evaluate(async what => {
    const { active } = await navigator.serviceWorker.ready
    return new Promise(resolve => {
      const channel = new MessageChannel()
      channel.port1.onmessage = event => resolve(event.data)
      active!.postMessage({ kind: what }, [channel.port2])
    })
  }, kind)

/**
 * What every browser test shares: a page on which any error, any console error and any request away from its own origin
 * fails the test; and a server of its own for tests that stop it.
 */
import { test as base, expect, type Page } from '@playwright/test'
import { DIST } from './build.mjs'
import { serve } from './server.mjs'

export { expect, type Page }
/** `npm run face`: every screen, mount, size and theme, and what takes its time; `npm test` takes a share. */
export const isWhole = process.env.FACE === 'all'
/** For what needs no page, or a browser of its own: no page is made and watched. */
export const withoutPage = base

export interface Watch {
  /** Console errors that the test brings about itself: `watch.expected.push(/…/)`. */
  expected: RegExp[]
  /** What was seen and not expected, so far. */
  complaints(): string[]
}

export interface OwnServer {
  url: string
  stop(): Promise<void>
  /** Again at the same address. */
  start(): Promise<void>
}

interface Rig {
  watch: Watch
  ownServer: OwnServer
}

export const test = base.extend<Rig>({
  watch: [
    async ({ context }, use) => {
      const seen: string[] = []
      const expected: RegExp[] = []
      const origins = new Set<string>()
      const look = (page: Page) => {
        page.on('console', message => {
          if (message.type() === 'error') seen.push(`console: ${message.text()} (${message.location().url})`)
        })
        page.on('pageerror', error => seen.push(`page error: ${error.message}`))
        page.on('crash', () => seen.push('the page crashed'))
        page.on('framenavigated', frame => {
          if (frame === page.mainFrame() && /^http/.test(frame.url())) origins.add(new URL(frame.url()).origin)
        })
      }
      const asked = new Set<string>()
      context.on('page', look)
      context.on('request', request => asked.add(request.url()))
      const complaints = () => {
        const away = [...asked].filter(url => /^(http|ws)/.test(url) && !origins.has(new URL(url).origin))
        return [...seen, ...away.map(url => `a request left the origin: ${url}`)].filter(
          text => !expected.some(pattern => pattern.test(text)),
        )
      }
      await use({ expected, complaints })
      expect(complaints()).toEqual([])
    },
    { auto: true },
  ],

  // biome-ignore lint/correctness/noEmptyPattern: Playwright reads the names of the fixtures from the pattern
  ownServer: async ({}, use) => {
    let server = await serve(DIST)
    const { port, url } = server
    let running = true
    const stop = async () => {
      if (running) await server.stop()
      running = false
    }
    const start = async () => {
      if (!running) server = await serve(DIST, port)
      running = true
    }
    await use({ url, stop, start })
    await stop()
  },
})

/** A walk that takes its time, or that goes a way that others go too, with another size, mount or delay: by `npm run face` only. */
export const unhurried = isWhole ? test : () => {}

/** Until the service worker has everything and serves this page. Registers it as src/service.ts does, if that is late. */
export async function untilOffline(page: Page): Promise<void> {
  await page.evaluate(async () => {
    await navigator.serviceWorker.register('./sw.js', { updateViaCache: 'none' })
    await navigator.serviceWorker.ready
    if (!navigator.serviceWorker.controller)
      await new Promise(resolve =>
        navigator.serviceWorker.addEventListener('controllerchange', resolve, { once: true }),
      )
  })
}

/** What the service worker says is missing, and how many parts it has. */
export const askOffline = (page: Page): Promise<{ missing: string[]; parts: number }> =>
  page.evaluate(async () => {
    const { active } = await navigator.serviceWorker.ready
    return new Promise(resolve => {
      const channel = new MessageChannel()
      channel.port1.onmessage = event => resolve(event.data)
      active!.postMessage('what-is-missing', [channel.port2])
    })
  })

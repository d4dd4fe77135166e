/** The app as it is built, on a host that can be stopped and can take a newer version. */
import { cpSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join, resolve } from 'node:path'
import { serve } from '../browser/server.mjs'
import { variant } from '../browser/variants.mjs'
import { builtApart } from '../helpers/builtapart.ts'
import type { Browser } from './engine.ts'

export async function serveApp() {
  const dist = builtApart()
  const folder = mkdtempSync(join(tmpdir(), 'moonplumb-site-'))
  const site = join(folder, 'site')
  cpSync(dist, site, { recursive: true })
  let server = await serve(site)
  const { port, url } = server
  let isUp = true
  const stop = async () => {
    if (isUp) await server.stop()
    isUp = false
  }
  return {
    url,
    stop,
    /** Again at the same address. */
    async start() {
      if (!isUp) server = await serve(site, port)
      isUp = true
    },
    /** Puts another version in its place. @param tag  see variant */
    deploy(tag: string) {
      rmSync(site, { recursive: true })
      variant(resolve('dist'), site, tag)
    },
    async remove() {
      await stop()
      rmSync(folder, { recursive: true, force: true })
    },
  }
}

/** Until the service worker has every part and serves this page. */
export const untilOffline = (browser: Browser): Promise<void> =>
  browser.evaluate(async () => {
    await navigator.serviceWorker.ready
    if (!navigator.serviceWorker.controller)
      await new Promise(resolve =>
        navigator.serviceWorker.addEventListener('controllerchange', resolve, { once: true }),
      )
  })

/** What the service worker says is missing of the version that serves this page. */
export const missingParts = (browser: Browser): Promise<string[]> =>
  browser.evaluate(async () => {
    const { active } = await navigator.serviceWorker.ready
    return new Promise<string[]>(resolve => {
      const channel = new MessageChannel()
      channel.port1.onmessage = ({ data }) => resolve(data.missing)
      active!.postMessage('what-is-missing', [channel.port2])
    })
  })

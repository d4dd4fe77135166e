import { cpSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { DIST } from './build.mjs'
import { askOffline, expect, test, untilOffline } from './rig.ts'
import { serve } from './server.mjs'
import { listOf, relist } from './variants.mjs'

const files = (folder: string, under = ''): string[] =>
  readdirSync(join(folder, under), { withFileTypes: true }).flatMap(entry =>
    entry.isDirectory() ? files(folder, `${under}${entry.name}/`) : [`${under}${entry.name}`],
  )

test.use({ serviceWorkers: 'allow' })

/** The service worker's own; the second copy of the book lies in the same place. Runs in the page. */
const ownCaches = async () => (await caches.keys()).filter(name => name.startsWith('moonplumb-'))

/** Not part of the program: the worker itself, what only the host reads, what only other programs read. */
const APART = ['sw.js', '_headers', 'recipe.schema.json']

test('every file of the build but the service worker itself is kept for the field', async ({ page }) => {
  await page.goto('./')
  await untilOffline(page)
  const kept = await page.evaluate(async () => {
    const names = (await caches.keys()).filter(name => name.startsWith('moonplumb-'))
    const keys = await Promise.all(names.map(async name => (await caches.open(name)).keys()))
    return { names, urls: keys.flat().map(request => request.url.slice(location.href.length)) }
  })
  expect(kept.names).toHaveLength(1)
  expect(kept.urls.sort()).toEqual(
    files(DIST)
      .filter(name => !APART.includes(name))
      .sort(),
  )
  expect(await askOffline(page)).toEqual({ missing: [], parts: kept.urls.length })
})

test('the list says of every file its length, type and SHA-256', async ({ page }) => {
  await page.goto('./')
  const wrong = await page.evaluate(async parts => {
    const hex = (bytes: ArrayBuffer) => [...new Uint8Array(bytes)].map(b => b.toString(16).padStart(2, '0')).join('')
    const check = async ({ url, bytes, sha256 }: { url: string; bytes: number; sha256: string }) => {
      const body = await (await fetch(url)).arrayBuffer()
      return body.byteLength === bytes && hex(await crypto.subtle.digest('SHA-256', body)) === sha256 ? [] : [url]
    }
    return (await Promise.all(parts.map(check))).flat()
  }, listOf(DIST))
  expect(wrong).toEqual([])
  expect(new Set(listOf(DIST).map(part => part.type))).toContain('text/javascript')
})

test('it says when a part has gone missing', async ({ page }) => {
  await page.goto('./')
  await untilOffline(page)
  await page.evaluate(async () => {
    const cache = await caches.open((await caches.keys()).find(name => name.startsWith('moonplumb-'))!)
    await cache.delete('manifest.webmanifest')
  })
  expect((await askOffline(page)).missing).toEqual(['manifest.webmanifest'])
})

test('the page opens again with the server stopped and the network off', async ({
  page,
  context,
  ownServer,
  watch,
}) => {
  await page.goto(ownServer.url)
  await untilOffline(page)
  await expect(page.locator('#app')).not.toBeEmpty()
  await ownServer.stop()
  await context.setOffline(true)
  watch.expected.push(/ERR_INTERNET_DISCONNECTED|ERR_CONNECTION_REFUSED/) // the browser's own look for a new version
  await page.reload()
  await expect(page.locator('#app')).not.toBeEmpty()
  const again = await context.newPage()
  await again.goto(`${ownServer.url}?from=home-screen`)
  await expect(again.locator('#app')).not.toBeEmpty()
})

test('the page may not load or run what is not its own', async ({ page, watch }) => {
  await page.goto('./')
  const policy = await page.locator('meta[http-equiv="Content-Security-Policy"]').getAttribute('content')
  expect(policy).toContain("default-src 'self'")
  watch.expected.push(
    /Content Security Policy/,
    /a request left the origin/,
    /Trusted(Script|HTML|ScriptURL)/,
    /not ours/,
  )
  const outcome = await page.evaluate(async () => {
    const script = document.createElement('script')
    script.append('window.injected = true') // a text node of it: no type is asked for, the policy stops it
    document.body.append(script)
    const refused = (act: () => unknown) => {
      try {
        act()
        return false
      } catch (error) {
        return error instanceof TypeError
      }
    }
    const untrusted = [
      refused(() => Object.assign(document.createElement('div'), { innerHTML: '<p>' })),
      refused(() => Object.assign(document.createElement('script'), { text: '1' })),
      refused(() => Object.assign(document.createElement('script'), { src: 'https://example.invalid/a.js' })),
      refused(() => new Worker('https://example.invalid/a.js')),
    ]
    const away = await fetch('https://example.invalid/').then(
      () => 'went out',
      () => 'refused',
    )
    return { injected: 'injected' in window, away, untrusted }
  })
  expect(outcome).toEqual({ injected: false, away: 'refused', untrusted: [true, true, true, true] })
})

test('the manifest is what an installation needs', async ({ page }) => {
  await page.goto('./')
  const manifest = JSON.parse(readFileSync(join(DIST, 'manifest.webmanifest'), 'utf8'))
  expect(manifest).toMatchObject({ name: 'Moonplumb', id: './', start_url: './', scope: './', display: 'standalone' })
  const sizes = await page.evaluate(
    async icons => {
      const load = (src: string) =>
        new Promise<string>(resolve => {
          const image = new Image()
          image.onload = () => resolve(`${image.naturalWidth}x${image.naturalHeight}`)
          image.src = src
        })
      return Promise.all(icons.map(load))
    },
    manifest.icons.map((icon: { src: string }) => icon.src),
  )
  expect(manifest.icons.map((icon: { sizes: string; purpose: string }) => [icon.sizes, icon.purpose])).toEqual([
    ['192x192', 'any'],
    ['512x512', 'any'],
    ['512x512', 'maskable'],
  ])
  expect(sizes).toEqual(['192x192', '512x512', '512x512'])
})

test('a new version waits until it is asked for, then takes over whole', async ({ page, context, watch }, info) => {
  const folder = info.outputPath('site')
  cpSync(DIST, folder, { recursive: true })
  const server = await serve(folder)
  try {
    await page.goto(server.url)
    await untilOffline(page)
    const before = await page.evaluate(ownCaches)
    // A new version: the page says something else, so its revision changes.
    const html = readFileSync(join(folder, 'index.html'), 'utf8').replace(
      '<title>Moonplumb</title>',
      '<title>Newer</title>',
    )
    writeFileSync(join(folder, 'index.html'), html)
    relist(folder)

    await page.evaluate(async () => {
      const registration = await navigator.serviceWorker.ready
      await registration.update()
      while (!registration.waiting) await new Promise(resolve => setTimeout(resolve, 50))
    })
    await page.reload()
    expect(await page.title()).toBe('Moonplumb')
    expect(await page.evaluate(ownCaches)).toHaveLength(2)
    // At rest, as when a person presses: Chromium lets a worker wait on that is told to take over while the page registers.
    await page.waitForTimeout(1500)
    await page.evaluate(async () => {
      const registration = await navigator.serviceWorker.ready
      const taken = new Promise(resolve => navigator.serviceWorker.addEventListener('controllerchange', resolve))
      registration.waiting!.postMessage('take-over')
      await taken
    })
    await page.reload()
    expect(await page.title()).toBe('Newer')
    // The one before is kept until the new one has drawn its first screen.
    await expect.poll(() => page.evaluate(ownCaches)).toHaveLength(1)
    const after = await page.evaluate(ownCaches)
    expect(after).not.toEqual(before)
    expect((await askOffline(page)).missing).toEqual([])
    await server.stop()
    await context.setOffline(true)
    watch.expected.push(/ERR_INTERNET_DISCONNECTED|ERR_CONNECTION_REFUSED/)
    await page.reload()
    expect(await page.title()).toBe('Newer')
  } finally {
    await server.stop().catch(() => {})
  }
})

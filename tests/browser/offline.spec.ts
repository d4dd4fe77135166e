import { cpSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { DIST } from './build.mjs'
import { askOffline, expect, test, untilOffline } from './rig.ts'
import { serve } from './server.mjs'

const files = (folder: string, under = ''): string[] =>
  readdirSync(join(folder, under), { withFileTypes: true }).flatMap(entry =>
    entry.isDirectory() ? files(folder, `${under}${entry.name}/`) : [`${under}${entry.name}`],
  )

test.use({ serviceWorkers: 'allow' })

/** The service worker's own; the second copy of the book lies in the same place. Runs in the page. */
const ownCaches = async () => (await caches.keys()).filter(name => name.startsWith('moonplumb-'))

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
      .filter(name => name !== 'sw.js')
      .sort(),
  )
  expect(await askOffline(page)).toEqual({ missing: [], parts: kept.urls.length })
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
  watch.expected.push(/Content Security Policy/, /a request left the origin/)
  const outcome = await page.evaluate(async () => {
    const script = document.createElement('script')
    script.textContent = 'window.injected = true'
    document.body.append(script)
    const away = await fetch('https://example.invalid/').then(
      () => 'went out',
      () => 'refused',
    )
    return { injected: 'injected' in window, away }
  })
  expect(outcome).toEqual({ injected: false, away: 'refused' })
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
    const sw = readFileSync(join(folder, 'sw.js'), 'utf8')
    const changed = sw.replace(/[0-9a-f]{32}(?=[^{}]*index\.html)/, '0'.repeat(32))
    expect(changed).not.toBe(sw)
    writeFileSync(join(folder, 'sw.js'), changed)

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
    const after = await page.evaluate(ownCaches)
    expect(after).toHaveLength(1)
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

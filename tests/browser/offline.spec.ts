import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { DIST } from './build.mjs'
import { askOffline, expect, test, untilOffline } from './rig.ts'
import { listOf } from './variants.mjs'

const files = (folder: string, under = ''): string[] =>
  readdirSync(join(folder, under), { withFileTypes: true }).flatMap(entry =>
    entry.isDirectory() ? files(folder, `${under}${entry.name}/`) : [`${under}${entry.name}`],
  )

test.use({ serviceWorkers: 'allow' })

/** Not part of the program: the worker itself, what only the host reads, what only other programs read. */
const APART = ['sw.js', '_headers', 'recipe.schema.json']

test('every file of the build is kept for the field with the length, type and SHA-256 that the list says; the page opens again with the server stopped', async ({
  page,
  context,
  ownServer,
  watch,
}) => {
  await page.goto(ownServer.url)
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

test('the page may not load or run what is not its own; the manifest is what an installation needs', async ({
  page,
  watch,
}) => {
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

  // The manifest is what an installation needs.
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

/** The few gravest of `npm run faults hosts`: what a host can do to the program on a phone, and that it mends. */
import { mkdirSync, mkdtempSync, renameSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { type BadHost, badHost } from '../faults/badhost.ts'
import {
  askWorker,
  damage,
  install,
  installed,
  isOne,
  knownToStart,
  lookForUpdate,
  openOffline,
  see,
  takeOver,
  writeBook,
} from '../faults/hosts.ts'
import { DIST } from './build.mjs'
import { test as base, expect } from './rig.ts'
import { listOf, variant } from './variants.mjs'

interface Versions {
  v1: string
  v2: string
  /** Its first script throws. */
  v3: string
}

const test = base.extend<{ host: BadHost }, { versions: Versions }>({
  versions: [
    // biome-ignore lint/correctness/noEmptyPattern: Playwright reads the names of the fixtures from the pattern
    async ({}, use) => {
      const folder = mkdtempSync(join(tmpdir(), 'moonplumb-versions-'))
      const [v1, v2] = ['v1', 'v2'].map(tag => variant(DIST, join(folder, tag), tag)) as [string, string]
      await use({ v1, v2, v3: variant(DIST, join(folder, 'v3'), 'v3', { broken: true }) })
      rmSync(folder, { recursive: true, force: true })
    },
    { scope: 'worker' },
  ],
  host: async ({ versions, watch }, use) => {
    const host = await badHost(versions.v1)
    watch.expected.push(/ERR_|MIME type|status of [45]|ServiceWorker script|Failed to load/)
    await use(host)
    await host.stop()
  },
})
test.use({ serviceWorkers: 'allow' })

/** The script of the first screen, and one that only a place needs. */
const entryOf = (dir: string) => listOf(dir).find(part => part.url.startsWith('assets/index-'))!.url
const placeOf = (dir: string) => listOf(dir).find(part => part.url.startsWith('assets/SightPlace-'))!.url

test('a host that answers a script with its page: the new version is not taken, and comes whole once the host is right; one that goes back to an older build: that one comes whole', async ({
  context,
  host,
  versions,
}) => {
  const page = await install(context, host)
  await writeBook(page)
  host.folder = versions.v2
  const wrong = placeOf(versions.v2)
  host.answer = path => (path === wrong ? 'index' : 'good')
  expect(await lookForUpdate(page)).toBe('refused')
  await page.reload()
  expect(isOne(await see(page), 'v1')).toBe(true)
  expect(host.asked.filter(path => path === wrong)).toHaveLength(3)
  host.answer = () => 'good'
  expect(await lookForUpdate(page)).toBe('waiting')
  await takeOver(page)
  expect(isOne(await see(page), 'v2')).toBe(true)
  host.folder = versions.v1
  expect(await lookForUpdate(page)).toBe('waiting')
  await takeOver(page)
  expect(isOne(await see(page), 'v1')).toBe(true)
  const seen = await openOffline(context, host)
  expect([isOne(seen, 'v1'), seen.records > 0]).toEqual([true, true])
})

test('a part that was damaged or lost on the phone is fetched again by itself, and never run as it is', async ({
  context,
  host,
  versions,
}) => {
  const page = await install(context, host)
  await knownToStart(page)
  expect(await damage(page, entryOf(versions.v1), 'damaged')).toBe(1)
  expect(await damage(page, placeOf(versions.v1), 'lost')).toBe(1)
  const before = await askWorker(page, 'look')
  expect(before.faults.map(fault => fault.state).sort()).toEqual(['damaged', 'missing'])
  await page.reload()
  expect(isOne(await see(page), 'v1')).toBe(true)
  await expect.poll(async () => (await askWorker(page, 'look')).faults).toEqual([])
  expect(isOne(await openOffline(context, host), 'v1')).toBe(true)
})

test('a version that does not start, twice: the last one that did is started, says so, and offers another try', async ({
  context,
  host,
  versions,
  watch,
}) => {
  watch.expected.push(/does not start/)
  const page = await install(context, host)
  await writeBook(page)
  await knownToStart(page)
  host.folder = versions.v3
  expect(await lookForUpdate(page)).toBe('waiting')
  await takeOver(page)
  expect(await page.title()).toBe('Moonplumb v3')
  for (let failed = 0; failed < 2; failed++) {
    await page.waitForTimeout(3_500) // as long as a person looks at an empty page
    await page.reload()
  }
  await expect(page.getByText('The new version did not start')).toBeVisible()
  const seen = await see(page)
  expect([isOne(seen, 'v1'), seen.records > 0]).toEqual([true, true])
  // A version that starts is taken as ever.
  host.folder = versions.v2
  expect(await lookForUpdate(page)).toBe('waiting')
  await takeOver(page)
  expect(isOne(await see(page), 'v2')).toBe(true)
  await expect(page.getByText('The new version did not start')).toHaveCount(0)
})

test('a wrong answer for a script at the first visit, which the browser keeps for a year: the page says what to do, and mends itself', async ({
  context,
  host,
  versions,
}) => {
  const wrong = entryOf(versions.v1)
  host.answer = path => (path === wrong ? 'index' : 'good')
  const page = await context.newPage()
  await page.goto(host.url)
  host.answer = () => 'good'
  await page.clock.install()
  await page.reload()
  await expect(page.locator('#app')).toBeEmpty()
  await expect(page.locator('#not-started')).toBeVisible() // after seven seconds
  await page.clock.fastForward(12_000)
  await expect(page.locator('#app main')).toBeVisible({ timeout: 30_000 })
  expect(isOne(await see(page), 'v1')).toBe(true)
})

test('two installations on one host leave each other alone', async ({ context, host, versions }, info) => {
  const folder = info.outputPath('site')
  mkdirSync(folder, { recursive: true })
  for (const [at, tag] of [
    ['a', 'v1'],
    ['b', 'v2'],
  ] as const)
    renameSync(variant(DIST, join(folder, `${at}-`), tag), join(folder, at))
  host.folder = folder
  const { url } = host
  const page = await context.newPage()
  await page.goto(`${url}a/`)
  await installed(page)
  await writeBook(page)
  const kept = () =>
    page.evaluate(async () => {
      const names = (await caches.keys()).filter(name => name.includes('/a/'))
      return Promise.all(names.map(async name => [name, (await (await caches.open(name)).keys()).length]))
    })
  await knownToStart(page)
  const before = await kept()
  const other = await context.newPage()
  await other.goto(`${url}b/`)
  await installed(other)
  await other.reload()
  expect(isOne(await see(other), 'v2')).toBe(true)
  await expect(other.getByRole('button', { name: 'Open the demo' })).toBeVisible()
  expect(await kept()).toEqual(before)
  expect((await askWorker(page, 'look')).faults).toEqual([])
  expect(versions.v1).not.toBe(versions.v2)
})

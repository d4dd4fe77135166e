/** The few gravest of `npm run faults hosts`: what a host can do to the program on a phone, and that it mends. */
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { type BadHost, badHost } from '../faults/badhost.ts'
import {
  askWorker,
  damage,
  install,
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

/** Versions of the build, each made when it is first asked for; v3's first script throws. */
const made = new Map<string, string>()
let folder: string | undefined
function version(tag: 'v1' | 'v2' | 'v3'): string {
  if (folder === undefined) {
    const own = mkdtempSync(join(tmpdir(), 'moonplumb-versions-'))
    folder = own
    process.once('exit', () => rmSync(own, { recursive: true, force: true }))
  }
  const dir = made.get(tag) ?? variant(DIST, join(folder, tag), tag, { broken: tag === 'v3' })
  made.set(tag, dir)
  return dir
}

const test = base.extend<{ host: BadHost }>({
  host: async ({ watch }, use) => {
    const host = await badHost(version('v1'))
    watch.expected.push(/ERR_|MIME type|status of [45]|ServiceWorker script|Failed to load/)
    await use(host)
    await host.stop()
  },
})
test.use({ serviceWorkers: 'allow' })

/** The script of the first screen, and one that only a place needs. */
const entryOf = (dir: string) => listOf(dir).find(part => part.url.startsWith('assets/index-'))!.url
const placeOf = (dir: string) => listOf(dir).find(part => part.url.startsWith('assets/SightPlace-'))!.url

test('a part that was damaged or lost on the phone is fetched again by itself; a host that answers a script with its page: the new version is not taken, and comes whole once the host is right; one that goes back to an older build: that one comes whole', async ({
  context,
  host,
}) => {
  const page = await install(context, host)
  await writeBook(page)
  await knownToStart(page)
  // A part that was damaged or lost on the phone is fetched again by itself, and never run as it is.
  expect(await damage(page, entryOf(version('v1')), 'damaged')).toBe(1)
  expect(await damage(page, placeOf(version('v1')), 'lost')).toBe(1)
  const before = await askWorker(page, 'look')
  expect(before.faults.map(fault => fault.state).sort()).toEqual(['damaged', 'missing'])
  await page.reload()
  expect(isOne(await see(page), 'v1')).toBe(true)
  await expect.poll(async () => (await askWorker(page, 'look')).faults).toEqual([])

  host.folder = version('v2')
  const wrong = placeOf(version('v2'))
  host.answer = path => (path === wrong ? 'index' : 'good')
  expect(await lookForUpdate(page)).toBe('refused')
  await page.reload()
  expect(isOne(await see(page), 'v1')).toBe(true)
  expect(host.asked.filter(path => path === wrong)).toHaveLength(3)
  host.answer = () => 'good'
  expect(await lookForUpdate(page)).toBe('waiting')
  await takeOver(page)
  expect(isOne(await see(page), 'v2')).toBe(true)
  host.folder = version('v1')
  expect(await lookForUpdate(page)).toBe('waiting')
  await takeOver(page)
  expect(isOne(await see(page), 'v1')).toBe(true)
  const seen = await openOffline(context, host)
  expect([isOne(seen, 'v1'), seen.records > 0]).toEqual([true, true])
})

test('a version that does not start, twice: the last one that did is started, says so, and offers another try', async ({
  context,
  host,
  watch,
}) => {
  watch.expected.push(/does not start/)
  const page = await install(context, host)
  await writeBook(page)
  await knownToStart(page)
  host.folder = version('v3')
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
  host.folder = version('v2')
  expect(await lookForUpdate(page)).toBe('waiting')
  await takeOver(page)
  expect(isOne(await see(page), 'v2')).toBe(true)
  await expect(page.getByText('The new version did not start')).toHaveCount(0)
})

/**
 * Every kind of damage that a browser's storage was seen to take or can be thought to take, done to a phone with a book on
 * it: what the app shows then, whether everything can be read and exported, and whether its buttons bring the database back.
 * The app as it is built, a real Chromium, a copy of one profile for each kind.
 */
import assert from 'node:assert/strict'
import { cpSync, mkdirSync, readdirSync, readFileSync, rmSync, truncateSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import type { BrowserContext, Locator, Page } from 'playwright'
import { serve } from '../browser/server.mjs'
import { builtApart } from '../helpers/builtapart.ts'
import { smallBook } from '../helpers/smallbook.ts'
import { newProfile, startBrowser, type Victim } from './bench.ts'

/** What is on the screen when the app has started. */
export type Shown =
  /** As if nothing had been: from the database, or from a new one that was filled from the second copy unasked. */
  | 'book'
  | 'put back'
  | 'second copy'
  | 'memory'
  /** Both copies were destroyed: an empty phone, said as such. */
  | 'empty'

export interface Damage {
  name: string
  /** Done to the profile while no browser runs. @param db  the folder of the page's database */
  toFiles?: (profile: string, db: string) => void
  /** Run in the page before the app. */
  script?: () => void
  /** Done by another page of the same origin before the app opens. */
  byPage?: () => Promise<void>
  /** What must be shown; left out: anything that loses nothing. */
  expected?: Shown
}

const filesIn = (folder: string, pattern: RegExp): string[] => {
  const found = readdirSync(folder).filter(name => pattern.test(name))
  assert.ok(found.length > 0, `no ${pattern} in ${folder}`)
  return found.map(name => join(folder, name))
}
/** Does `act` to every file of the database whose name fits. */
export const each = (pattern: RegExp, act: (file: string) => void) => (_: string, db: string) => {
  for (const file of filesIn(db, pattern)) act(file)
}
export const halved = (file: string) => truncateSync(file, Math.floor(readFileSync(file).length / 2))
export const flipped = (file: string) => {
  const bytes = readFileSync(file)
  for (let i = 7; i < bytes.length; i += 97) bytes[i]! ^= 0x55
  writeFileSync(file, bytes)
}
export const zeroed = (file: string) => writeFileSync(file, Buffer.alloc(readFileSync(file).length))
export const gone = (path: string) => rmSync(path, { recursive: true })
const cacheFolder = (profile: string) => join(profile, 'Default', 'Service Worker', 'CacheStorage')

export const DAMAGES: readonly Damage[] = [
  { name: 'nothing', expected: 'book' },
  { name: 'database folder gone', toFiles: (_, db) => gone(db), expected: 'put back' },
  { name: 'MANIFEST gone', toFiles: each(/^MANIFEST/, gone) },
  { name: 'MANIFEST cut in half', toFiles: each(/^MANIFEST/, halved) },
  { name: 'MANIFEST bits turned', toFiles: each(/^MANIFEST/, flipped) },
  { name: 'CURRENT gone', toFiles: each(/^CURRENT$/, gone) },
  { name: 'CURRENT garbage', toFiles: each(/^CURRENT$/, file => writeFileSync(file, 'x\u0000y')) },
  { name: 'CURRENT names no file', toFiles: each(/^CURRENT$/, file => writeFileSync(file, 'MANIFEST-999999\n')) },
  { name: 'log gone', toFiles: each(/\.log$/, gone) },
  { name: 'log cut in half', toFiles: each(/\.log$/, halved) },
  { name: 'log bits turned', toFiles: each(/\.log$/, flipped) },
  { name: 'table gone', toFiles: each(/\.ldb$/, gone) },
  { name: 'table cut in half', toFiles: each(/\.ldb$/, halved) },
  { name: 'table bits turned', toFiles: each(/\.ldb$/, flipped) },
  { name: 'every file zeroed', toFiles: each(/^(MANIFEST|CURRENT|.*\.(log|ldb))/, zeroed) },
  {
    name: 'LOCK cannot be taken',
    toFiles(_, db) {
      rmSync(join(db, 'LOCK'), { force: true })
      mkdirSync(join(db, 'LOCK', 'held'), { recursive: true })
    },
  },
  {
    name: 'a file where the folder was',
    toFiles(_, db) {
      gone(db)
      writeFileSync(db, 'x')
    },
  },
  {
    name: 'version newer than the app',
    byPage: () =>
      new Promise((resolve, reject) => {
        const request = indexedDB.open('moonplumb', 99)
        request.onsuccess = () => {
          request.result.close()
          resolve()
        }
        request.onerror = () => reject(request.error)
      }),
    expected: 'second copy',
  },
  {
    name: 'stores missing in it',
    byPage: () =>
      new Promise((resolve, reject) => {
        indexedDB.deleteDatabase('moonplumb').onsuccess = () => {
          const request = indexedDB.open('moonplumb', 1)
          request.onsuccess = () => {
            request.result.close()
            resolve()
          }
          request.onerror = () => reject(request.error)
        }
      }),
    expected: 'second copy',
  },
  {
    name: 'records emptied',
    byPage: () =>
      new Promise((resolve, reject) => {
        const request = indexedDB.open('moonplumb')
        request.onsuccess = () => {
          const tx = request.result.transaction('records', 'readwrite')
          tx.objectStore('records').clear()
          tx.oncomplete = () => {
            request.result.close()
            resolve()
          }
        }
        request.onerror = () => reject(request.error)
      }),
    expected: 'put back',
  },
  {
    name: 'held: a deletion that waits for another tab',
    byPage: () =>
      new Promise(resolve => {
        const request = indexedDB.open('moonplumb')
        request.onsuccess = () => {
          Object.assign(globalThis, { held: request.result }) // deaf to versionchange
          indexedDB.deleteDatabase('moonplumb')
          resolve()
        }
      }),
    expected: 'second copy',
  },
  { name: 'second copy gone', toFiles: profile => gone(cacheFolder(profile)), expected: 'book' },
  {
    name: 'database and second copy gone',
    toFiles(profile, db) {
      gone(db)
      gone(cacheFolder(profile))
    },
    expected: 'empty',
  },
  {
    name: 'no IndexedDB in the browser',
    script: () => Object.defineProperty(globalThis, 'indexedDB', { value: undefined }),
    expected: 'second copy',
  },
  {
    name: 'IndexedDB refuses',
    script: () => {
      const refuse = () => {
        throw new DOMException('The operation is insecure.', 'SecurityError')
      }
      IDBFactory.prototype.open = refuse
    },
    expected: 'second copy',
  },
  {
    name: 'the backing store gives an internal error',
    script: () => {
      const refuse = () => {
        throw new DOMException('Internal error opening backing store for indexedDB.open.', 'UnknownError')
      }
      IDBFactory.prototype.open = refuse
    },
    expected: 'second copy',
  },
  {
    name: 'no Cache Storage in the browser',
    script: () => Object.defineProperty(globalThis, 'caches', { value: undefined }),
    expected: 'book',
  },
  {
    name: 'neither IndexedDB nor Cache Storage',
    script: () => {
      Object.defineProperty(globalThis, 'indexedDB', { value: undefined })
      Object.defineProperty(globalThis, 'caches', { value: undefined })
    },
    expected: 'memory',
  },
]

export interface Outcome {
  damage: string
  shown: Shown
  /** Of the records that were there: how many the exported text has. */
  exported: number
  of: number
  /** How the database came back: by itself, by "Try again", by making it new; or that it cannot, here. */
  healed: 'by itself' | 'try again' | 'made new' | 'not here'
  /** Records after that, on a page that was loaded again. */
  afterwards: number
}

const press = (page: Page, name: string) => page.getByRole('button', { name, exact: true }).first().click()
const goTo = (page: Page, hash: string) =>
  page.evaluate(to => {
    location.hash = to
  }, hash)

/** Every record's own id in the exported text. */
async function exportedIds(page: Page): Promise<Set<string>> {
  await goTo(page, '#book')
  await goTo(page, '#book/export')
  await page.getByText('The text itself').click()
  const text = page.getByRole('textbox', { name: 'The text itself' })
  await text.waitFor()
  return idsIn(JSON.parse(await text.inputValue()))
}
function idsIn(book: unknown): Set<string> {
  const ids = new Set<string>()
  JSON.stringify(book, (key, value) => {
    if (key === 'id' && typeof value === 'string') ids.add(value)
    return value
  })
  return ids
}

/** What the screen says in each case; the first that fits. */
export const SAYS: readonly [Shown, string][] = [
  ['put back', 'The book was put back'],
  ['second copy', 'Shown from the second copy'],
  ['memory', 'Nothing is kept'],
  ['empty', 'Set up my station'],
  ['book', 'Record a sighting'],
]

/** Waits for the first screen, or for what stands in its place. */
async function shownBy(page: Page): Promise<Shown> {
  const any = SAYS.map(([, text]) => text).join('|')
  await page
    .getByText(new RegExp(any))
    .first()
    .waitFor({ timeout: 40_000 })
    .catch(async () => {
      throw new Error(`a dead end: ${(await page.locator('body').textContent())?.slice(0, 400)}`)
    })
  const seen = async () => {
    for (const [shown, text] of SAYS) if (await page.getByText(text).first().isVisible()) return shown
    return 'book'
  }
  // What the database lacks comes back in the background.
  if ((await seen()) === 'book' || (await seen()) === 'empty') await page.waitForTimeout(1_500)
  return seen()
}

async function bring(page: Page): Promise<Set<string>> {
  await goTo(page, '#book/import')
  await page.getByRole('textbox', { name: 'Or paste its text' }).fill(JSON.stringify(smallBook()))
  await press(page, 'See what is in it')
  await page.getByRole('button', { name: /^Import \d/ }).click()
  await page.getByText(/records imported/).waitFor()
  return exportedIds(page)
}

const fillUp = () =>
  new Promise<void>((resolve, reject) => {
    const request = indexedDB.open('beside', 1)
    request.onupgradeneeded = () => request.result.createObjectStore('s')
    request.onerror = () => reject(request.error)
    request.onsuccess = () => {
      const tx = request.result.transaction('s', 'readwrite')
      // Not to be compressed.
      for (let i = 0; i < 100; i++) tx.objectStore('s').put(crypto.getRandomValues(new Uint8Array(65_000)), i)
      tx.oncomplete = () => resolve()
    }
  })

async function open(context: BrowserContext, url: string): Promise<Page> {
  const page = await context.newPage()
  page.on('dialog', dialog => void dialog.accept())
  await page.goto(url)
  return page
}

/** Whether one thing goes before another is said; as it stands when the time is up. */
async function isGoneBefore(line: Locator, said: Locator, timeout: number): Promise<boolean> {
  const first = await Promise.race([
    line.waitFor({ state: 'hidden', timeout }).then(() => 'gone' as const),
    said.waitFor({ timeout }).then(() => 'said' as const),
  ]).catch(() => 'neither' as const)
  return first === 'neither' ? !(await line.isVisible()) : first === 'gone'
}

async function tryOne(damage: Damage, victim: Victim, url: string, ids: ReadonlySet<string>): Promise<Outcome> {
  const context = victim.browser.contexts()[0]!
  if (damage.byPage) {
    const other = await open(context, `${url}icons/icon-192.png`)
    await other.evaluate(damage.byPage)
  }
  if (damage.script) await context.addInitScript(damage.script)
  const page = await open(context, url)
  const shown = await shownBy(page)
  const count = (there: ReadonlySet<string>) => [...ids].filter(id => there.has(id)).length
  if (shown === 'empty' || shown === 'memory') {
    const said = await page
      .getByText(shown === 'memory' ? 'Nothing is kept' : 'Set up my station')
      .first()
      .isVisible()
    assert.ok(said, damage.name)
    if (shown === 'memory') {
      await press(page, 'Show me the book')
      const again = await bring(page)
      assert.equal(count(again), ids.size, 'works in memory and exports')
      for (const place of ['#now', '#mount', '#sight', '#correct', '#book']) {
        await goTo(page, place)
        await page.getByText('Nothing is kept').first().waitFor()
      }
    }
    await page.close()
    return { damage: damage.name, shown, exported: 0, of: ids.size, healed: 'not here', afterwards: 0 }
  }
  let healed: Outcome['healed'] = 'by itself'
  if (shown === 'put back') await press(page, 'Show me the book')
  if (shown === 'second copy') {
    for (const button of ['Try again', 'Export a backup', 'Rebuild the database'])
      await page.getByRole('button', { name: button }).waitFor()
    await press(page, 'Show me the book')
  }
  const exported = count(await exportedIds(page))
  if (shown === 'second copy') {
    // Work goes on: a name is changed, and it is there afterwards.
    await press(page, 'What to do')
    await press(page, 'Try again')
    const line = page.getByText('Shown from the second copy').first()
    const isBack = await isGoneBefore(line, page.getByText(/Tried/), 45_000)
    healed = isBack ? 'try again' : 'not here'
    if (!isBack) {
      await press(page, 'Rebuild the database')
      await press(page, 'Delete it and rebuild it')
      if (await isGoneBefore(line, page.getByText('could not be rebuilt'), 20_000)) healed = 'made new'
    }
  }
  await goTo(page, '#now')
  await page.reload()
  const after = await shownBy(page)
  if (after === 'put back' || after === 'second copy') await press(page, 'Show me the book')
  const afterwards = count(await exportedIds(page))
  await page.close()
  return { damage: damage.name, shown, exported, of: ids.size, healed, afterwards }
}

export async function damagedDatabases(onEach?: (outcome: Outcome) => void): Promise<Outcome[]> {
  const server = await serve(builtApart())
  const first = newProfile()
  const outcomes: Outcome[] = []
  const failed: string[] = []
  try {
    let victim = await startBrowser(first.folder)
    let page = await open(victim.browser.contexts()[0]!, server.url)
    await bring(page)
    await victim.close()
    // A second visit makes a table of the log, and a log of its own.
    victim = await startBrowser(first.folder)
    page = await open(victim.browser.contexts()[0]!, server.url)
    await page.getByText('Record a sighting').waitFor()
    await page.getByRole('button', { name: 'Record a sighting' }).waitFor()
    await goTo(page, '#book/settings')
    const ids = await exportedIds(page)
    // Four megabytes beside it, so that what is in the log goes into a table.
    await page.evaluate(fillUp)
    await page.waitForTimeout(500)
    await victim.close()
    for (const damage of DAMAGES) {
      const profile = newProfile()
      try {
        cpSync(first.folder, profile.folder, { recursive: true })
        const databases = join(profile.folder, 'Default', 'IndexedDB')
        const db = join(databases, readdirSync(databases).find(name => name.endsWith('.leveldb'))!)
        damage.toFiles?.(profile.folder, db)
        victim = await startBrowser(profile.folder)
        outcomes.push(await tryOne(damage, victim, server.url, ids))
        onEach?.(outcomes.at(-1)!)
      } catch (error) {
        failed.push(`${damage.name}: ${String(error)}`)
        console.error(failed.at(-1))
      } finally {
        await victim.kill()
        profile.remove()
      }
    }
  } finally {
    await server.stop()
    first.remove()
  }
  assert.deepEqual(failed, [])
  return outcomes
}

/** What is wrong with the outcomes; empty when nothing is lost and nobody is left without a way. */
export function damageWrong(outcomes: readonly Outcome[], damages: readonly Damage[] = DAMAGES): string[] {
  return outcomes.flatMap(({ damage, shown, exported, of, afterwards }) => {
    const { expected } = damages.find(({ name }) => name === damage)!
    const wrong: string[] = []
    if (expected !== undefined && expected !== shown) wrong.push(`${damage}: ${shown} instead of ${expected}`)
    if (shown === 'empty' || shown === 'memory') {
      if (expected !== shown) wrong.push(`${damage}: ${shown}, though a copy was left`)
    } else if (exported !== of || afterwards !== of)
      wrong.push(`${damage}: ${exported} exported, ${afterwards} afterwards, of ${of}`)
    return wrong
  })
}

/**
 * Damaged storage in each engine: its database's files destroyed in the profile, records emptied by a page, the second copy
 * destroyed. Expected: nothing lost while one of the two is left, nobody without a way.
 */
import assert from 'node:assert/strict'
import { cpSync, existsSync, readdirSync } from 'node:fs'
import { join } from 'node:path'
import {
  DAMAGES,
  type Damage,
  damageWrong,
  flipped,
  gone,
  halved,
  type Outcome,
  SAYS,
  type Shown,
  zeroed,
} from '../faults/damage.ts'
import { smallBook } from '../helpers/smallbook.ts'
import type { Browser, Engine, Kept } from './engine.ts'
import { inEach, newProfile } from './engines.ts'
import { has, press, says, text, until, untilSaid } from './hands.ts'
import { keepLastScreen } from './pictures.ts'
import { serveApp, untilOffline } from './site.ts'
import { bringIn, handedOut, idsIn } from './walk.ts'

/** Does it to every file of the database of that ending, wherever the engine puts it. */
const toEach = (pattern: RegExp, act: (file: string) => void) => (_: string, database: string) => {
  const files = readdirSync(database, { recursive: true, encoding: 'utf8' }).filter(name => pattern.test(name))
  assert.ok(files.length > 0, `no ${pattern} in ${database}`)
  for (const name of files) act(join(database, name))
}

const DATABASE = /\.sqlite3?$/
const BY_PAGE = ['version newer than the app', 'stores missing in it', 'records emptied']

const damagesOf = (caches: (profile: string) => string): Damage[] => [
  { name: 'nothing', expected: 'book' },
  { name: 'database folder gone', toFiles: (_, db) => gone(db), expected: 'put back' },
  { name: 'database file gone', toFiles: toEach(DATABASE, gone) },
  { name: 'database file cut in half', toFiles: toEach(DATABASE, halved) },
  { name: 'database file bits turned', toFiles: toEach(DATABASE, flipped) },
  { name: 'database file zeroed', toFiles: toEach(DATABASE, zeroed) },
  { name: 'write-ahead log gone', toFiles: toEach(/-wal$/, gone) },
  { name: 'write-ahead log bits turned', toFiles: toEach(/-wal$/, flipped) },
  { name: 'every file zeroed', toFiles: toEach(/\.sqlite3?(-wal|-shm)?$/, zeroed) },
  ...DAMAGES.filter(({ name }) => BY_PAGE.includes(name)),
  { name: 'second copy gone', toFiles: profile => gone(caches(profile)), expected: 'book' },
  {
    name: 'database and second copy gone',
    toFiles(profile, db) {
      gone(db)
      gone(caches(profile))
    },
    expected: 'empty',
  },
]

/** Waits for the first screen, or for what stands in its place. */
async function shownBy(browser: Browser): Promise<Shown> {
  const look = () => says(browser, Object.fromEntries(SAYS.map(([shown, words]) => [shown, new RegExp(words)])), 60_000)
  const shown = await look()
  if (shown !== 'book' && shown !== 'empty') return shown as Shown
  // What the database lacks comes back in the background; where nothing is there, a slow machine gets its time.
  let still = shown as Shown
  for (const end = Date.now() + (shown === 'empty' ? 20_000 : 2_000); still === shown && Date.now() < end; ) {
    await new Promise(resolve => setTimeout(resolve, 500))
    still = (await look()) as Shown
  }
  return still
}
const BOOK = /^The field book/

async function tryOne(damage: Damage, browser: Browser, url: string, ids: ReadonlySet<string>) {
  if (damage.byPage) {
    await browser.go(`${url}icons/icon-192.png`)
    await browser.evaluate(damage.byPage)
  }
  await browser.go(url)
  const shown = await shownBy(browser)
  const outcome: Outcome = { damage: damage.name, shown, exported: 0, of: ids.size, healed: 'not here', afterwards: 0 }
  if (shown === 'empty' || shown === 'memory') return outcome
  const count = async () => {
    const there = idsIn(await handedOut(browser, BOOK))
    return [...ids].filter(id => there.has(id)).length
  }
  outcome.healed = 'by itself'
  if (shown === 'put back' || shown === 'second copy') await press(browser, 'Show me the book')
  outcome.exported = await count()
  if (shown === 'second copy') outcome.healed = await remade(browser)
  await browser.kill()
  return outcome
}

/** By its own buttons: once more, else new from the second copy. */
async function remade(browser: Browser): Promise<Outcome['healed']> {
  const stands = async () => /Shown from the second copy/.test(await text(browser))
  await press(browser, 'What to do')
  await press(browser, 'Try again')
  await until(browser, 'end of trying', async () => /Tried/.test(await text(browser)) || !(await stands()), 60_000)
  if (!(await stands())) return 'try again'
  await press(browser, 'Rebuild the database')
  await press(browser, 'Delete it and rebuild it')
  await until(browser, 'database made new', async () => !(await stands()) || (await has(browser, 'button', /failed/)))
  return 'made new'
}

async function damaged(engine: Engine) {
  const app = await serveApp()
  const first = newProfile()
  const port = Number(new URL(app.url).port)
  const all = damagesOf(profile => engine.kept(profile, port).caches)
  // `DAMAGE` names one of them.
  const damages = all.filter(({ name }) => (process.env.DAMAGE ?? name) === name)
  const outcomes: Outcome[] = []
  const failed: string[] = []
  let triedAgain = 0
  try {
    let browser = await engine.start(first.folder)
    await browser.go(app.url)
    await untilSaid(browser, /Set up my station/)
    await untilOffline(browser)
    await bringIn(browser, JSON.stringify(smallBook()))
    await browser.close()
    // Closed in good order, the log's pages are in the database. A second visit begins a log of its own, and a kill leaves it.
    browser = await engine.start(first.folder)
    await browser.go(app.url)
    await untilSaid(browser, /Record a sighting/)
    const more = smallBook()
    more.stations[0].levels.push({ ...more.stations[0].levels[0], id: 'le-5' })
    await bringIn(browser, JSON.stringify(more))
    const ids = idsIn(await handedOut(browser, BOOK))
    await browser.kill()
    const files: Kept = engine.kept(first.folder, port)
    for (const folder of Object.values(files)) assert.ok(existsSync(folder), `${folder} is not there`)

    const onACopy = async (damage: Damage): Promise<Outcome> => {
      const profile = newProfile()
      try {
        cpSync(first.folder, profile.folder, { recursive: true })
        damage.toFiles?.(profile.folder, engine.kept(profile.folder, port).database)
        browser = await engine.start(profile.folder)
        const outcome = await tryOne(damage, browser, app.url, ids)
        if (outcome.exported === 0) return outcome
        browser = await engine.start(profile.folder)
        await browser.go(app.url)
        const again = await shownBy(browser)
        if (again === 'put back' || again === 'second copy') await press(browser, 'Show me the book')
        const there = idsIn(await handedOut(browser, BOOK))
        return { ...outcome, afterwards: [...ids].filter(id => there.has(id)).length }
      } catch (error) {
        await keepLastScreen(engine, browser)
        throw error
      } finally {
        await browser.kill()
        profile.remove()
      }
    }
    for (const damage of damages)
      try {
        const outcome = await onACopy(damage).catch(error => {
          // Firefox now and then crashes or drops the connection; that says nothing about the damage.
          if (!/Target closed|TargetCloseError/.test(String(error))) throw error
          triedAgain++
          return onACopy(damage)
        })
        outcomes.push(outcome)
        console.error(`${engine.name}: ${JSON.stringify(outcome)}`)
      } catch (error) {
        failed.push(`${engine.name}, ${damage.name}: ${error}`)
        console.error(failed.at(-1))
      }
  } finally {
    await app.remove()
    first.remove()
  }
  assert.deepEqual([...failed, ...damageWrong(outcomes, damages)], [])
  return { triedAgain, outcomes }
}

export default () => inEach(damaged)

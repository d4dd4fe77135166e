/**
 * A phone with no room left, where an engine lets that be set: Firefox by the limit of its quota manager. Expected: said, the
 * entry stays on the screen, and it is kept at the next try when there is room again.
 */
import assert from 'node:assert/strict'
import type { Browser, Engine } from './engine.ts'
import { inEach, newProfile } from './engines.ts'
import { find, goTo, press, says, text, until, untilSaid } from './hands.ts'
import { keepLastScreen } from './pictures.ts'
import { serveApp, untilOffline } from './site.ts'
import { enterSighting, makeStation } from './walk.ts'

/** The program and its second copy take one megabyte and a half; a site gets at least ten of it. */
const ROOM_KB = 30 * 1024
const MOST_SIGHTINGS = 40

/** Another database of the site takes all the room that there is, in ever smaller pieces. @returns kilobytes */
const fillUp = (browser: Browser): Promise<number> =>
  browser.evaluate(async () => {
    const open = () =>
      new Promise<IDBDatabase>((resolve, reject) => {
        const request = indexedDB.open('beside', 1)
        request.onupgradeneeded = () => request.result.createObjectStore('s', { autoIncrement: true })
        request.onsuccess = () => resolve(request.result)
        request.onerror = () => reject(request.error)
      })
    // Opened for each try: Firefox closes a database that met the limit.
    const put = async (bytes: number): Promise<boolean> => {
      const database = await open()
      try {
        return await new Promise<boolean>(resolve => {
          const tx = database.transaction('s', 'readwrite')
          const piece = new Uint8Array(bytes)
          for (let at = 0; at < bytes; at += 65_536) crypto.getRandomValues(piece.subarray(at, at + 65_536)) // not to be packed
          tx.objectStore('s').put(piece)
          tx.oncomplete = () => resolve(true)
          tx.onabort = () => resolve(false)
        })
      } catch {
        return false
      } finally {
        database.close()
      }
    }
    let kilobytes = 0
    for (let size = 1024; size >= 1; size /= 4)
      while (kilobytes < 100_000 && (await put(size * 1024))) kilobytes += size
    return kilobytes
  })

const makeRoom = (browser: Browser): Promise<void> =>
  browser.evaluate(
    () =>
      new Promise((resolve, reject) => {
        const request = indexedDB.deleteDatabase('beside')
        request.onsuccess = () => resolve()
        request.onerror = () => reject(request.error)
      }),
  )

const listed = async (browser: Browser): Promise<number> => {
  await goTo(browser, 'sight/list')
  return until(browser, 'list of sightings', () =>
    browser.evaluate(() => document.querySelectorAll('[aria-label="Sightings"] button').length || null),
  )
}

async function fullPhone(engine: Engine) {
  if (!engine.canBeFull) return { fullPhone: 'not tried: this engine cannot be told how much room there is' }
  const app = await serveApp()
  const profile = newProfile()
  const browser = await engine.start(profile.folder, { roomKb: ROOM_KB })
  try {
    await browser.go(app.url)
    await untilSaid(browser, /Set up my station/)
    await untilOffline(browser)
    await makeStation(browser)
    const filledKb = await fillUp(browser)
    assert.ok(filledKb < 100_000, 'the limit is not kept')
    let typed = 0
    let outcome = ''
    // What SQLite has set aside takes some more.
    while (outcome !== 'full' && typed < MOST_SIGHTINGS) {
      const minute = String(typed++).padStart(2, '0')
      await enterSighting(browser, { utc: `2026-06-02 05:${minute}:00`, lower: '80.1', upper: '12.3' })
      outcome = await says(browser, { full: /no room left/, kept: /Undo: sighting of the Sun/ })
      if (outcome === 'full') {
        assert.match(await text(browser), /Not kept yet: sighting of the Sun/)
        await press(browser, 'Try again')
        // Firefox tidies up when the limit is met: then there is room for one more.
        outcome = await says(browser, { full: /not kept: 1\sthing waits/, kept: /Undo: sighting of the Sun/ })
      }
      if (outcome === 'kept') await goTo(browser, 'now')
    }
    assert.equal(outcome, 'full')
    await makeRoom(browser)
    await press(browser, 'Try again')
    await find(browser, 'button', /^Undo: sighting of the Sun/)
    assert.equal(await listed(browser), typed)
    await browser.go(`${app.url}?again`)
    await untilSaid(browser, /Record a sighting/)
    assert.equal(await listed(browser), typed)
    return { fullPhone: 'said, and kept at the next try', filledKb, sightings: typed, sightingsKept: typed }
  } catch (error) {
    await keepLastScreen(engine, browser)
    throw error
  } finally {
    await browser.kill()
    await app.remove()
    profile.remove()
  }
}

export default () => inEach<object>(fullPhone)

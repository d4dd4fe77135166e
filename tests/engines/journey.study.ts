/**
 * The whole job in each engine: an empty phone, a station, sightings, a level by sensor events, the solution as the desk
 * has it, out and into a second phone; killed and started with the host away; and over to a new version.
 * Expected: nothing lost, the same solution to 1e-9, no console error.
 */
import assert from 'node:assert/strict'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { batch, difference, sixSightings } from '../helpers/paperjourney.ts'
import type { Engine } from './engine.ts'
import { inEach, newProfile } from './engines.ts'
import { goTo, press, until, untilSaid } from './hands.ts'
import { keepLastScreen } from './pictures.ts'
import { missingParts, serveApp, untilOffline } from './site.ts'
import { assertNoComplaint, bringIn, handedOut, idsIn, levelTheMast, makeStation, typeSighting } from './walk.ts'

/** The engine's own look for a new service worker, with nobody there. */
const HOST_AWAY = /sw\.js|NetworkError|Could not connect|service worker/i

async function journey(engine: Engine) {
  const say = (what: string) => console.error(`${engine.name}: ${what}`)
  const app = await serveApp()
  const profile = newProfile()
  const second = newProfile()
  const folder = mkdtempSync(join(tmpdir(), 'moonplumb-journey-'))
  let browser = await engine.start(profile.folder)
  try {
    await browser.go(app.url)
    await untilSaid(browser, /Set up my station/)
    await untilOffline(browser)
    await makeStation(browser)
    const sightings = sixSightings(folder)
    for (const s of sightings) await typeSighting(browser, s)
    await levelTheMast(browser)
    await goTo(browser, 'now')
    await untilSaid(browser, /Own echoes lose less than/)
    say('solved')

    const solution = JSON.parse(await handedOut(browser, /^The solution/))
    const book = await handedOut(browser, /^The field book/)
    const file = join(folder, 'out.fieldbook.json')
    writeFileSync(file, book)
    assert.match(batch('check', file), /^ok.*6 sightings/)
    const apart = difference(solution, JSON.parse(batch('solve', file, '--now', solution.solvedUtc)))
    assert.deepEqual(apart.other, [])
    assert.ok(apart.worst <= 1e-9, `${apart.worst} from the desk's`)
    assert.equal(solution.fit.used, 6)
    assertNoComplaint(browser)
    say(`the same as the desk's to ${apart.worst}`)

    await app.stop()
    await browser.kill()
    browser = await engine.start(profile.folder)
    await browser.go(`${app.url}#sight/list`)
    const listed = await until(browser, 'list of sightings', () =>
      browser.evaluate(() => document.querySelectorAll('[aria-label="Sightings"] button').length || null),
    )
    assert.equal(listed, 6)
    assert.deepEqual(idsIn(await handedOut(browser, /^The field book/)), idsIn(book))
    assertNoComplaint(browser, HOST_AWAY)
    say('started with the host away, after a kill')

    await app.start()
    app.deploy('v2')
    await browser.go(`${app.url}?again`)
    await press(browser, 'Change to the new version')
    await until(browser, 'title of the new version', async () =>
      browser.evaluate(() => document.title === 'Moonplumb v2'),
    )
    await untilSaid(browser, /Own echoes lose less than/)
    assert.deepEqual(await missingParts(browser), [])
    const ran = await browser.evaluate(() => (globalThis as unknown as { ran: string[] }).ran)
    assert.deepEqual([...new Set(ran)], ['v2'])
    assert.deepEqual(idsIn(await handedOut(browser, /^The field book/)), idsIn(book))
    await app.stop()
    await browser.go(`${app.url}?once-more`)
    await untilSaid(browser, /Own echoes lose less than/)
    assert.equal(await browser.evaluate(() => document.title), 'Moonplumb v2')
    assertNoComplaint(browser, HOST_AWAY)
    await browser.close()
    say('changed to a new version')

    await app.start()
    browser = await engine.start(second.folder)
    await browser.go(app.url)
    await untilSaid(browser, /Set up my station/)
    const brought = await bringIn(browser, book)
    assert.deepEqual(idsIn(await handedOut(browser, /^The field book/)), idsIn(book))
    assertNoComplaint(browser)
    say('brought in on a second phone')
    return {
      sightings: sightings.length,
      solutionNumbers: apart.numbers,
      solutionWorstRelative: apart.worst,
      recordsImported: brought,
      consoleErrors: 0,
    }
  } catch (error) {
    await keepLastScreen(engine, browser)
    throw error
  } finally {
    await browser.kill()
    await app.remove()
    profile.remove()
    second.remove()
    rmSync(folder, { recursive: true, force: true })
  }
}

export default () => inEach(journey)

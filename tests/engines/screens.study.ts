/**
 * The main screens of the demo station in each engine, in daylight and the gravest at night, as pictures to be looked at.
 * Expected: each is drawn, none is wider than the window, no console error.
 */
import assert from 'node:assert/strict'
import { join } from 'node:path'
import type { Engine } from './engine.ts'
import { inEach, newProfile } from './engines.ts'
import { press, untilSaid } from './hands.ts'
import { keepLastScreen, pictureFolder, pictureOf, SCREENS } from './pictures.ts'
import { serveApp, untilOffline } from './site.ts'
import { assertNoComplaint } from './walk.ts'

const AT_NIGHT = ['now', 'sight', 'correct/sky', 'mount/live']

async function screens(engine: Engine) {
  const app = await serveApp()
  const profile = newProfile()
  const browser = await engine.start(profile.folder)
  const folder = pictureFolder(engine.name)
  const wrong: string[] = []
  const take = async (screen: string, theme: string) => {
    const file = `${engine.name}-${screen.replaceAll('/', '-')}${theme}.png`
    wrong.push(...(await pictureOf(browser, screen, join(folder, file))))
  }
  try {
    await browser.go(app.url)
    await untilOffline(browser)
    await press(browser, 'Open the demo')
    await untilSaid(browser, /Own echoes lose less than/)
    for (const screen of SCREENS) await take(screen, '')
    await browser.evaluate(() => localStorage.setItem('moonplumb.theme', 'night'))
    await browser.go(`${app.url}?night`)
    await untilSaid(browser, /Own echoes lose less than/)
    for (const screen of AT_NIGHT) await take(screen, '-night')
    assert.deepEqual(wrong, [])
    assertNoComplaint(browser)
    return { screens: SCREENS.length + AT_NIGHT.length, consoleErrors: 0 }
  } catch (error) {
    await keepLastScreen(engine, browser)
    throw error
  } finally {
    await browser.kill()
    await app.remove()
    profile.remove()
  }
}

export default () => inEach(screens)

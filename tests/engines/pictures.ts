/** Pictures of the main screens, to be looked at, and what can be seen without eyes: nothing is wider than the window. */
import { mkdirSync, mkdtempSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Browser, Engine } from './engine.ts'
import { goTo, until } from './hands.ts'

/** Of the demo station, which has something to show on each. */
export const SCREENS: readonly string[] = [
  'now',
  'sight',
  'sight/other',
  'sight/new',
  'sight/list',
  'sight/see/demo-sighting-7',
  'sight/drift/new',
  'sight/cross/new',
  'sight/noon',
  'sight/storm',
  'sight/search',
  'sight/noise/new',
  'mount',
  'mount/measure/lower-axis-elevation',
  'mount/measure/mast-lean',
  'mount/change',
  'mount/swing',
  'mount/sunline',
  'mount/clock',
  'mount/live',
  'mount/instruments',
  'correct',
  'correct/left',
  'correct/sky',
  'correct/next',
  'correct/program',
  'correct/software',
  'correct/software/page',
  'correct/software/budget',
  'correct/software/recipe',
  'correct/feed',
  'book',
  'book/new',
  'book/edit/demo-heron-meadow/upper',
  'book/dish',
  'book/import',
  'book/export',
  'book/history',
  'book/settings',
  'book/sensors',
  'book/ready',
]

/** `PICTURES`, or a new folder beside all projects. */
export function pictureFolder(engine: string): string {
  const folder = process.env.PICTURES ?? mkdtempSync(join(tmpdir(), 'moonplumb-pictures-'))
  mkdirSync(folder, { recursive: true })
  console.error(`${engine}: pictures in ${folder}`)
  return folder
}

/** Half a second without a change of what stands there: a screen asks the worker, and draws what comes back. */
const untilStill = (browser: Browser): Promise<void> =>
  browser.evaluate(async () => {
    // The clock on the screen goes on.
    const words = () => document.body.innerText.replace(/\d\d:\d\d:\d\d/g, '')
    let before = ''
    for (let still = 0, tries = 0; still < 5 && tries < 100; tries++) {
      await new Promise(resolve => setTimeout(resolve, 100))
      const now = words()
      still = now === before && !/Computing…|Opening…/.test(now) ? still + 1 : 0
      before = now
    }
  })

/** Goes to a screen and takes it. @returns what is wrong to see */
export async function pictureOf(browser: Browser, screen: string, file: string): Promise<string[]> {
  await goTo(browser, screen)
  await until(browser, `heading of ${screen}`, () =>
    browser.evaluate(() => document.querySelector('h1')?.getClientRects().length === 1),
  )
  await untilStill(browser)
  writeFileSync(file, await browser.picture())
  return browser.evaluate(where => {
    const wrong: string[] = []
    const { scrollWidth } = document.documentElement
    if (scrollWidth > innerWidth) wrong.push(`${where}: ${scrollWidth} px wide in a window of ${innerWidth}`)
    const words = document.body.innerText
    if (/cannot be shown|did not load/.test(words)) wrong.push(`${where}: broken`)
    if (/new version/.test(words)) wrong.push(`${where}: a new version where there is none`)
    return wrong
  }, screen)
}

/** For whoever asks why a study failed. */
export async function keepLastScreen(engine: Engine, browser: Browser): Promise<void> {
  const file = join(tmpdir(), `moonplumb-${engine.name}-failed.png`)
  writeFileSync(file, await browser.picture().catch(() => Buffer.alloc(0)))
  console.error(`${engine.name}: the screen at the end is in ${file}; console: ${browser.complaints().join('; ')}`)
}

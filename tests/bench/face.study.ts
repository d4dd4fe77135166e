/**
 * What the face costs on a slow phone (the page slowed 4 times), with a book of 300 sightings. Milliseconds; the least
 * beside the median, because whatever else the machine does only ever adds. Goals: JavaScript to the first screen 39 kB
 * gzipped; an interaction 100; script per tick of the first screen 5; no timer while hidden; fresh start from the cache,
 * offline, 1000.
 */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { type BrowserContext, chromium, type Page } from 'playwright'
import { CHROMIUM_ARGS, findChromium } from '../browser/chromium.mjs'
import { serve } from '../browser/server.mjs'
import { relist } from '../browser/variants.mjs'
import { stationWith } from '../helpers/many.ts'
import { bookOf } from '../helpers/simulate.ts'
import { buildAndWeigh } from './shares.ts'

const SLOWER = 4
const RUNS = 5
const TICKS = 10
const STARTS = 5

declare global {
  /** Interactions noted by the Event Timing API since the last look, ms; timers and frames while "hidden". */
  var noted: { interactions: number[]; whileHidden: string[] }
  var usableMs: number | undefined
}

const summary = (times: number[]) => {
  const sorted = [...times].sort((a, b) => a - b)
  const round = (ms: number) => Math.round(10 * ms) / 10
  return { leastMs: round(sorted[0]!), medianMs: round(sorted[sorted.length >> 1]!), worstMs: round(sorted.at(-1)!) }
}

/** In the page, before the app: notes interactions, the first usable screen, and what fires while hidden. */
function watchPage(): void {
  globalThis.noted = { interactions: [], whileHidden: [] }
  new PerformanceObserver(list => {
    for (const entry of list.getEntries() as PerformanceEventTiming[])
      if (entry.interactionId) noted.interactions.push(entry.duration)
  }).observe({ type: 'event', durationThreshold: 16, buffered: true } as PerformanceObserverInit)
  const look = () => {
    if (globalThis.usableMs !== undefined || !document.querySelector('button.action')) return
    // Drawn: the frame after the one in which it came.
    requestAnimationFrame(() => setTimeout(() => (globalThis.usableMs ??= performance.now())))
  }
  new MutationObserver(look).observe(document, { childList: true, subtree: true })
  for (const name of ['setTimeout', 'setInterval', 'requestAnimationFrame'] as const) {
    const real = globalThis[name] as (act: (...args: unknown[]) => void, ...rest: unknown[]) => number
    const watched = (act: (...args: unknown[]) => void, ...rest: unknown[]) =>
      real(
        (...args) => {
          if (document.visibilityState === 'hidden') noted.whileHidden.push(`${name}: ${String(act).slice(0, 80)}`)
          act(...args)
        },
        ...rest,
      )
    Object.assign(globalThis, { [name]: watched })
  }
}

/** The longest of each interaction that an act brings about. Under 16 ms the browser notes none. */
async function interaction(page: Page, act: () => Promise<void>): Promise<number> {
  await page.evaluate(() => new Promise(resolve => requestIdleCallback(() => setTimeout(resolve, 300))))
  await page.evaluate(() => (noted.interactions.length = 0))
  await act()
  await page.evaluate(() => new Promise(resolve => requestAnimationFrame(() => setTimeout(resolve, 200))))
  return page.evaluate(() => Math.max(16, ...noted.interactions))
}

async function interactions(page: Page): Promise<Record<string, ReturnType<typeof summary>>> {
  const place = (word: string) => () => page.getByRole('navigation').getByRole('link', { name: word }).tap()
  const acts: [what: string, from: string, act: () => Promise<void>][] = [
    ...['Now', 'Mount', 'Sight', 'Correct', 'Book'].map(
      word => [`go to ${word}`, word === 'Now' ? 'book' : 'now', place(word)] as [string, string, () => Promise<void>],
    ),
    ['open the list of sightings', 'sight', () => page.getByRole('button', { name: /^All sightings/ }).tap()],
    ['open a sighting', 'sight/list', () => page.locator('.sight-row').nth(2).tap()],
    ['see what is left at each', 'correct', () => page.locator('main nav button').first().tap()],
    ['pick a mark of 300', 'correct/left', () => page.locator('.plot svg').tap()],
    ['type a digit in a field', 'sight/new', () => page.locator('input[inputmode]').first().press('7')],
  ]
  const figures: Record<string, ReturnType<typeof summary>> = {}
  for (const [what, from, act] of acts) {
    const times: number[] = []
    for (let k = 0; k < RUNS; k++) {
      await page.evaluate(a => (location.hash = a), from)
      await page.waitForTimeout(1000)
      times.push(await interaction(page, act))
    }
    figures[what] = summary(times)
  }
  return figures
}

/** CPU time of the page's script over some ticks of the first screen, a tick. */
async function tickMs(page: Page): Promise<{ scriptMs: number; wholeMs: number }> {
  await page.evaluate(() => (location.hash = 'now'))
  await page.waitForTimeout(4000)
  const session = await page.context().newCDPSession(page)
  await session.send('Performance.enable', { timeDomain: 'threadTicks' })
  const spent = async () => {
    const { metrics } = await session.send('Performance.getMetrics')
    const of = (name: string) => metrics.find(m => m.name === name)!.value * 1000
    return { script: of('ScriptDuration'), task: of('TaskDuration') }
  }
  const before = await spent()
  await page.waitForTimeout(1000 * TICKS)
  const after = await spent()
  await session.detach()
  const each = (ms: number) => Math.round((100 * ms) / TICKS) / 100
  return { scriptMs: each(after.script - before.script), wholeMs: each(after.task - before.task) }
}

/** Everything that fires in half a minute on each live screen after it is hidden. */
async function firesWhileHidden(page: Page): Promise<string[]> {
  const all: string[] = []
  for (const address of ['now', 'sight', 'correct', 'mount/live']) {
    await page.evaluate(a => (location.hash = a), address)
    await page.waitForTimeout(4000)
    await page.evaluate(() => {
      Object.defineProperty(document, 'visibilityState', { value: 'hidden', configurable: true })
      document.dispatchEvent(new Event('visibilitychange'))
    })
    // What follows from being hidden is drawn once more.
    await page.waitForTimeout(2000)
    await page.evaluate(() => {
      noted.whileHidden.length = 0
    })
    await page.waitForTimeout(10_000)
    all.push(...(await page.evaluate(() => noted.whileHidden)).map(what => `${address}: ${what}`))
    await page.evaluate(() => {
      Reflect.deleteProperty(document, 'visibilityState')
      document.dispatchEvent(new Event('visibilitychange'))
    })
  }
  return all
}

async function slow(context: BrowserContext): Promise<Page> {
  const page = context.pages()[0] ?? (await context.newPage())
  await page.addInitScript(watchPage)
  const session = await context.newCDPSession(page)
  await session.send('Emulation.setCPUThrottlingRate', { rate: SLOWER })
  return page
}

export default async function study() {
  const { dir, weighed } = buildAndWeigh()
  writeFileSync(join(dir, 'demo.fieldbook.json'), JSON.stringify(bookOf(stationWith(300, 30))))
  relist(dir) // the service worker takes no part but the one that its list has
  const profile = mkdtempSync(join(tmpdir(), 'moonplumb-face-'))
  const executablePath = await findChromium()
  const begin = () =>
    chromium.launchPersistentContext(profile, {
      executablePath,
      args: CHROMIUM_ARGS,
      viewport: { width: 390, height: 844 },
      deviceScaleFactor: 2,
      isMobile: true,
      hasTouch: true,
      timezoneId: 'UTC',
    })
  const server = await serve(dir)
  let context = await begin()
  try {
    const page = await slow(context)
    await page.goto(server.url)
    await page.getByRole('button', { name: 'Open the demo' }).tap()
    await page.getByText('Own echoes lose less than').waitFor({ timeout: 120_000 })
    await page.evaluate(() => navigator.serviceWorker.ready.then(() => {}))
    const figures = {
      javaScript: weighed,
      interactions: await interactions(page),
      tick: await tickMs(page),
      firesWhileHidden: await firesWhileHidden(page),
    }
    await server.stop()
    const starts: number[] = []
    for (let k = 0; k < STARTS; k++) {
      await context.close()
      context = await begin()
      await context.setOffline(true)
      const fresh = await slow(context)
      await fresh.goto(server.url)
      await fresh.waitForFunction(() => globalThis.usableMs !== undefined, null, { timeout: 30_000 })
      await fresh.getByRole('button', { name: 'Record a sighting' }).waitFor()
      starts.push(await fresh.evaluate(() => globalThis.usableMs!))
    }
    if (figures.firesWhileHidden.length > 0) throw new Error(`while hidden: ${figures.firesWhileHidden.join('; ')}`)
    return { ...figures, freshStartOffline: summary(starts) }
  } finally {
    await context.close()
    await server.stop()
    for (const folder of [dir, profile]) rmSync(folder, { recursive: true, force: true, maxRetries: 5 })
  }
}

/**
 * A robot at the person's place in a real browser, a beginner's dish of every mount and twelve numbers each: how often, and after how
 * many sightings, the app says "within", and whether the truth confirms it. Two at once. What each run came to goes to stderr.
 */
import { type Browser, chromium } from 'playwright'
import type { MountKind } from '../../src/core/records/fieldbook.ts'
import { CHROMIUM_ARGS, findChromium } from '../browser/chromium.mjs'
import { PLATES, type RobotRun, robotRun } from '../browser/robotrun.ts'
import { serve } from '../browser/server.mjs'
import { builtApart } from '../helpers/builtapart.ts'

const SEEDS = 12
const AT_ONCE = 2

type Ended = RobotRun | { kind: MountKind; seed: number; failed: string }

async function one(browser: Browser, url: string, kind: MountKind, seed: number): Promise<Ended> {
  const context = await browser.newContext({
    viewport: { width: 390, height: 844 },
    locale: 'en-GB',
    timezoneId: 'UTC',
    isMobile: true,
    hasTouch: true,
    serviceWorkers: 'block',
  })
  const errors: string[] = []
  try {
    const page = await context.newPage()
    page.on('pageerror', error => errors.push(error.message))
    await page.goto(url)
    const run = await robotRun(page, kind, seed)
    if (errors.length > 0) throw new Error(`page errors: ${errors.join('; ')}`)
    return run
  } catch (error) {
    return { kind, seed, failed: String((error as Error).message ?? error) }
  } finally {
    await context.close()
  }
}

const median = (list: readonly number[]): number => [...list].sort((a, b) => a - b)[list.length >> 1] ?? Number.NaN
const share = (list: readonly boolean[]): string => `${list.filter(Boolean).length} of ${list.length}`

function figures(runs: readonly RobotRun[]) {
  const said = runs.filter(r => r.within)
  return {
    runs: runs.length,
    within: share(runs.map(r => r.within)),
    /** The loss left at most 1.3 times the claimed, or a tenth of a decibel more; of all, and of those said to be within. */
    holds: share(runs.map(r => r.holds)),
    atMost1_3: share(said.map(r => r.ratio <= 1.3)),
    saidWithinButIsNot: share(said.map(r => !r.trulyWithin)),
    ratio: { median: median(runs.map(r => r.ratio)), most: Math.max(...runs.map(r => r.ratio)) },
    sightings: { median: median(runs.map(r => r.sightings)), most: Math.max(...runs.map(r => r.sightings)) },
    hours: { median: median(runs.map(r => r.minutes)) / 60, most: Math.max(...runs.map(r => r.minutes)) / 60 },
  }
}

export default async function study() {
  const server = await serve(builtApart())
  const browser = await chromium.launch({ executablePath: await findChromium(), args: CHROMIUM_ARGS })
  const ended: Ended[] = []
  try {
    const waiting = Array.from({ length: SEEDS }, (_, k) => PLATES.map(kind => [kind, k + 1] as const)).flat()
    const worker = async () => {
      for (let next = waiting.shift(); next; next = waiting.shift()) {
        const came = await one(browser, server.url, ...next)
        ended.push(came)
        console.error(`robot: ${ended.length} ${JSON.stringify(came)}`)
      }
    }
    await Promise.all(Array.from({ length: AT_ONCE }, worker))
  } finally {
    await browser.close()
    await server.stop()
  }
  const runs = ended.filter((e): e is RobotRun => !('failed' in e))
  return {
    all: figures(runs),
    byKind: Object.fromEntries(PLATES.map(kind => [kind, figures(runs.filter(r => r.kind === kind))])),
    broken: ended.filter(e => 'failed' in e),
    runs: runs.sort((a, b) => (a.kind === b.kind ? a.seed - b.seed : a.kind < b.kind ? -1 : 1)),
  }
}

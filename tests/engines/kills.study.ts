/**
 * 50 kills in the middle of writing in each engine: SIGKILL for all of its processes. Expected: no acknowledged record lost,
 * no half record.
 */
import { killsWhileWriting, REST_MS, type StartWriter } from '../faults/kills.ts'
import type { Engine } from './engine.ts'
import { inEach } from './engines.ts'
import { until } from './hands.ts'

const KILLS = Number(process.env.KILLS ?? 50)

const writerIn =
  (engine: Engine): StartWriter =>
  async (profile, url) => {
    const browser = await engine.start(profile)
    return {
      async read(database) {
        await browser.go(url)
        await until(browser, 'harness', () => browser.evaluate(() => 'harness' in globalThis))
        return browser.evaluate(async name => {
          harness.open(name)
          const { there, halves } = await harness.verifyPairs()
          return { there, halves, told: harness.told() }
        }, database)
      },
      write: (run, bytes) =>
        browser.evaluate(
          (name, size, rest) => {
            const tell = (what: string) => void fetch(`/told?${what}`, { cache: 'no-store' }).catch(() => {})
            harness.watchTransactions(what => tell(`transacted=${what}`))
            void harness.writePairs(name, 100_000, size, n => tell(`acked=${n}`), rest)
          },
          run,
          bytes,
          REST_MS,
        ),
      kill: browser.kill,
    }
  }

async function kills(engine: Engine) {
  const figures = await killsWhileWriting(KILLS, 1, writerIn(engine))
  if (figures.acknowledgedLost > 0 || figures.halfRecords > 0 || figures.acknowledged < KILLS)
    throw new Error(`${engine.name}: lost or halved: ${JSON.stringify(figures)}`)
  // Else the kills all fell into pauses, and the study shows nothing.
  if (figures.midWrite < 0.2 * figures.kills)
    throw new Error(`${engine.name}: too few kills in mid-write: ${JSON.stringify(figures)}`)
  return figures
}

export default () => inEach(kills)

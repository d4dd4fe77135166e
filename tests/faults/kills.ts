/**
 * The browser is killed in the middle of writing, again and again, on one profile. What the page had been told is saved
 * must be there afterwards, and nothing may be there by half.
 */
import { newProfile, seeded, servePage, startBrowser } from './bench.ts'

export interface KillFigures {
  kills: number
  /** Kills that fell while a transaction was open: begun, as the page said itself, and not complete. */
  midWrite: number
  acknowledged: number
  acknowledgedLost: number
  /** After which kill how many were missing, of how many, and what was there. */
  losses: { kill: number; lost: number; of: number; there: number }[]
  /** How often the browser had thrown its database away, and everything came back from the second copy. */
  databasesPutBack: number
  halfRecords: number
  /** Written, but killed before the page could say so: these may be there or not. */
  unacknowledgedKept: number
}

export async function killsWhileWriting(kills: number, seed: number): Promise<KillFigures> {
  const random = seeded(seed)
  const server = await servePage()
  const profile = newProfile()
  const figures: KillFigures = {
    kills: 0,
    midWrite: 0,
    acknowledged: 0,
    acknowledgedLost: 0,
    losses: [],
    databasesPutBack: 0,
    halfRecords: 0,
    unacknowledgedKept: 0,
  }
  // A fresh database every 20 kills: reading everything after each kill stays short.
  const PER_DATABASE = 20
  let acked = new Set<string>()
  let victim = await startBrowser(profile.folder)
  const verify = async (database: string) => {
    const page = await victim.open(server.url, database)
    const { there, halves } = await page.evaluate(() => harness.verifyPairs())
    const told = await page.evaluate(() => harness.told())
    if (told.includes('put-back')) figures.databasesPutBack++
    const found = new Set(there)
    const missing = [...acked].filter(n => !found.has(n))
    if (missing.length > 0) {
      figures.acknowledgedLost += missing.length
      figures.losses.push({ kill: figures.kills, lost: missing.length, of: acked.size, there: found.size })
      for (const n of missing) acked.delete(n) // each is counted once
    }
    figures.halfRecords += halves.length
    return { page, found }
  }
  try {
    for (let round = 0; round < kills; round++) {
      const database = `kills-${Math.floor(round / PER_DATABASE)}`
      if (round % PER_DATABASE === 0) acked = new Set()
      const { page, found } = await verify(database)
      for (const n of found)
        if (!acked.has(n)) {
          figures.unacknowledgedKept++
          acked.add(n) // it is there now, so it must stay
        }
      let heard = 0
      const enough = 1 + Math.floor(random() * 40)
      const afterMs = 10 + random() * 250
      let reached: () => void = () => {}
      const soon = new Promise<void>(resolve => {
        reached = resolve
      })
      await page.exposeFunction('acked', (n: string) => {
        acked.add(n)
        figures.acknowledged++
        if (++heard >= enough) reached()
      })
      let open = 0
      await page.exposeFunction('transacted', (what: 'begun' | 'complete') => {
        open += what === 'begun' ? 1 : -1
      })
      await page.evaluate(() => harness.watchTransactions(what => globalThis.transacted(what)))
      const size = 50 + Math.floor(random() * 3_000)
      const writing = page
        .evaluate(([run, bytes]) => harness.writePairs(run, 100_000, bytes, globalThis.acked, 40), [
          `r${round}`,
          size,
        ] as const)
        .catch(() => {}) // ended by the kill
      // Every other time at once when an acknowledgement comes in, else at any moment.
      if (round % 2 === 0) await soon
      else await new Promise(resolve => setTimeout(resolve, afterMs))
      const isOpen = open > 0
      await victim.kill()
      figures.kills++
      if (isOpen) figures.midWrite++
      await writing
      await victim.browser.close().catch(() => {})
      victim = await startBrowser(profile.folder)
      if (round % PER_DATABASE === PER_DATABASE - 1 || round === kills - 1) await verify(database)
    }
  } finally {
    await victim.kill()
    await server.stop()
    profile.remove()
  }
  return figures
}

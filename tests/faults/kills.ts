/**
 * The browser is killed in the middle of writing, again and again, on one profile. What the page had been told is saved
 * must be there afterwards, and nothing may be there by half.
 */

import { seeded } from '../helpers/random.ts'
import { newProfile, type Saying, servePage, startBrowser } from './bench.ts'

/** A browser at the harness page that can be killed: any engine. */
export interface Writer {
  /** Opens the database of that name on a fresh page, and reads all of it. */
  read(database: string): Promise<{ there: string[]; halves: string[]; told: readonly string[] }>
  /** Begins to write pairs, until it is killed. @param hear  gets what the page says itself; else it asks the host for `told` */
  write(run: string, bytes: number, hear: Hear): Promise<void>
  /** SIGKILL for all of it. */
  kill(): Promise<void>
}
/** @param url  of the harness page */
export type StartWriter = (profile: string, url: string) => Promise<Writer>
type Hear = (said: Saying) => void

/** The longest pause between two pairs. */
const REST_MS = 40

const chromiumWriter: StartWriter = async (profile, url) => {
  const victim = await startBrowser(profile)
  let page = victim.browser.contexts()[0]!.pages()[0]!
  return {
    async read(database) {
      page = await victim.open(url, database)
      const { there, halves } = await page.evaluate(() => harness.verifyPairs())
      return { there, halves, told: await page.evaluate(() => harness.told()) }
    },
    async write(run, bytes, hear) {
      await page.exposeFunction('acked', (n: string) => hear({ acked: n }))
      await page.exposeFunction('transacted', (what: 'begun' | 'complete') => hear({ transacted: what }))
      await page.evaluate(() => harness.watchTransactions(what => globalThis.transacted(what)))
      await page.evaluate(
        ([name, size, rest]) => void harness.writePairs(name, 100_000, size, globalThis.acked, rest),
        [run, bytes, REST_MS] as const,
      )
    },
    async kill() {
      await victim.kill()
      await victim.browser.close().catch(() => {})
    },
  }
}

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

export async function killsWhileWriting(
  kills: number,
  seed: number,
  start: StartWriter = chromiumWriter,
): Promise<KillFigures> {
  const random = seeded(seed)
  let hear: Hear = () => {}
  const server = await servePage(said => hear(said))
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
  let victim = await start(profile.folder, server.url)
  const verify = async (database: string) => {
    const { there, halves, told } = await victim.read(database)
    if (told.includes('put-back')) figures.databasesPutBack++
    const found = new Set(there)
    const missing = [...acked].filter(n => !found.has(n))
    if (missing.length > 0) {
      figures.acknowledgedLost += missing.length
      figures.losses.push({ kill: figures.kills, lost: missing.length, of: acked.size, there: found.size })
      for (const n of missing) acked.delete(n) // each is counted once
    }
    figures.halfRecords += halves.length
    return found
  }
  try {
    for (let round = 0; round < kills; round++) {
      const database = `kills-${Math.floor(round / PER_DATABASE)}`
      if (round % PER_DATABASE === 0) acked = new Set()
      const found = await verify(database)
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
      let open = 0
      let begin: () => void = () => {}
      const nextBegun = () =>
        new Promise<void>(resolve => {
          begin = resolve
        })
      const size = 50 + Math.floor(random() * 3_000)
      hear = said => {
        if ('transacted' in said) {
          open += said.transacted === 'begun' ? 1 : -1
          if (open > 0) begin()
        } else {
          acked.add(said.acked)
          figures.acknowledged++
          if (++heard >= enough) reached()
        }
      }
      await victim.write(`r${round}`, size, hear)
      // In turn: at once when an acknowledgement comes in, when a transaction begins, and at any moment.
      if (round % 2 === 0) await soon
      else await new Promise(resolve => setTimeout(resolve, afterMs))
      if (round % 4 === 1) await nextBegun()
      const isOpen = open > 0
      await victim.kill()
      figures.kills++
      if (isOpen) figures.midWrite++
      victim = await start(profile.folder, server.url)
      if (round % PER_DATABASE === PER_DATABASE - 1 || round === kills - 1) await verify(database)
    }
  } finally {
    await victim.kill()
    await server.stop()
    profile.remove()
  }
  return figures
}

/** Full phone, cut connection, blocked upgrade, newer tab, clock set back, lost database: each must be said, and nothing lost. */
import assert from 'node:assert/strict'
import { rmSync } from 'node:fs'
import { join } from 'node:path'
import { type Bench, newProfile, onBench, servePage, startBrowser } from './bench.ts'

async function until<T extends { kind: string }>(kinds: string[], attempt: () => Promise<T>): Promise<T> {
  for (let tries = 0; ; tries++) {
    const answer = await attempt()
    if (kinds.includes(answer.kind) || tries > 60) return answer
    await new Promise(resolve => setTimeout(resolve, 500))
  }
}

async function fullPhone({ victim, url, origin }: Bench) {
  const page = await victim.open(url, 'full')
  const cdp = await page.context().newCDPSession(page)
  const text = 'x'.repeat(3_000_000)
  await cdp.send('Storage.overrideQuotaForOrigin', { origin, quotaSize: 200_000 })
  // Chromium remembers for a while how much room it found, so the first ones may still pass.
  let written = 0
  const full = await until(['full'], async () => {
    const answer = await page.evaluate(([own, t]) => harness.append(own, t, 77), [`big-${written}`, text] as const)
    if (answer.kind === 'done') written++
    return answer
  })
  assert.equal(full.kind, 'full', JSON.stringify(full))
  assert.equal((await page.evaluate(() => harness.load())).length, written, 'something was written by half')
  await cdp.send('Storage.overrideQuotaForOrigin', { origin })
  // The same record handed in again, as the screen keeps it.
  const again = await until(['done'], () =>
    page.evaluate(([own, t]) => harness.append(own, t, 77), [`big-${written}`, text] as const),
  )
  assert.deepEqual(again, { kind: 'done', revision: 1 })
  await page.close()
  return { said: full.kind, writtenBefore: written, writtenWhenRoomWasMade: true }
}

async function cutConnection({ victim, url, origin }: Bench) {
  const page = await victim.open(url, 'cut')
  const cdp = await page.context().newCDPSession(page)
  await page.evaluate(() => harness.append('before', 'x'))
  // The browser closes the connection under the page, as it does when its storage goes away.
  await cdp.send('IndexedDB.deleteDatabase', { securityOrigin: origin, databaseName: 'cut' })
  await page.waitForFunction(() => harness.told().includes('dropped'), undefined, { timeout: 10_000 })
  const after = await page.evaluate(() => harness.append('after', 'x'))
  assert.equal(after.kind, 'done', JSON.stringify(after))
  const told = await page.evaluate(() => harness.told())
  assert.deepEqual(told, ['dropped', 'put-back', 'reopened'])
  // What went with the database is back from the second copy.
  assert.deepEqual((await page.evaluate(() => harness.load())).map(r => r.id).sort(), [
    'sighting:s/after',
    'sighting:s/before',
  ])
  await page.close()
  return { told, writtenAfterwards: 1 }
}

async function blockedUpgrade({ victim, url }: Bench) {
  const old = await victim.open(url, 'blocked')
  await old.evaluate(() => harness.append('kept', 'x'))
  await old.evaluate(() => harness.open('elsewhere')) // lets go of it
  await old.evaluate(() => harness.hold('blocked')) // and holds it, deaf
  const newer = await victim.open(url, 'blocked', 2)
  const began = performance.now()
  const blocked = await newer.evaluate(() => harness.append('new', 'x', 5))
  const saidAfterMs = Math.round(performance.now() - began)
  assert.equal(blocked.kind, 'blocked', JSON.stringify(blocked))
  await old.evaluate(() => harness.letGo())
  await newer.waitForTimeout(300)
  assert.equal((await newer.evaluate(() => harness.append('new', 'x', 5))).kind, 'done')
  assert.equal((await newer.evaluate(() => harness.load())).length, 2)
  await old.close()
  await newer.close()
  return { said: blocked.kind, saidAfterMs, wentOnAlone: true }
}

async function newerTab({ victim, url }: Bench) {
  const old = await victim.open(url, 'newer')
  await old.evaluate(() => harness.append('kept', 'x'))
  const newer = await victim.open(url, 'newer', 2)
  assert.equal((await newer.evaluate(() => harness.append('new', 'x'))).kind, 'done')
  const told = await old.evaluate(() => harness.told())
  assert.deepEqual(told, ['closed-for-newer'])
  const refused = await old.evaluate(() => harness.append('late', 'x'))
  assert.equal(refused.kind, 'newer-tab', JSON.stringify(refused))
  assert.equal((await newer.evaluate(() => harness.load())).length, 2)
  await old.close()
  await newer.close()
  return { told, said: refused.kind }
}

async function clockSetBack({ victim, url }: Bench) {
  const page = await victim.open(url, 'clock')
  await page.clock.install({ time: new Date('2026-05-01T12:00:00Z') })
  for (let i = 0; i < 3; i++) await page.evaluate(text => harness.append('a', text), `${i}`)
  await page.clock.setSystemTime(new Date('2016-01-01T00:00:00Z'))
  for (let i = 3; i < 6; i++) await page.evaluate(text => harness.append('a', text), `${i}`)
  const history = await page.evaluate(() => harness.history('a'))
  assert.deepEqual(
    history.map(r => [r.revision, r.text]),
    Array.from({ length: 6 }, (_, i) => [i + 1, `${i}`]),
  )
  assert.ok(history[3]!.writtenMs < history[2]!.writtenMs, 'the clock was not set back')
  await page.close()
  return { revisions: history.length, inOrder: true }
}

/** What Chromium does by itself when it finds its database's log torn: it throws the whole database away. */
async function lostDatabase() {
  const server = await servePage()
  const profile = newProfile()
  try {
    let victim = await startBrowser(profile.folder)
    const page = await victim.open(server.url, 'lost')
    for (let i = 0; i < 20; i++) await page.evaluate(own => harness.append(own, 'x'), `${i}`)
    await victim.kill()
    rmSync(join(profile.folder, 'Default', 'IndexedDB'), { recursive: true })
    victim = await startBrowser(profile.folder)
    const after = await victim.open(server.url, 'lost')
    const there = (await after.evaluate(() => harness.load())).length
    const told = await after.evaluate(() => harness.told())
    assert.equal(there, 20)
    assert.deepEqual(told, ['put-back'])
    await victim.kill()
    return { there, told }
  } finally {
    await server.stop()
    profile.remove()
  }
}

/** What one browser goes through at once; a full phone takes as long as the browser remembers how much room there was. */
const troubleOn = async (bench: Bench) => ({
  cutConnection: await cutConnection(bench),
  blockedUpgrade: await blockedUpgrade(bench),
  newerTab: await newerTab(bench),
  clockSetBack: await clockSetBack(bench),
})

export const trouble = async () => ({
  fullPhone: await onBench(fullPhone),
  ...(await onBench(troubleOn)),
  lostDatabase: await lostDatabase(),
})

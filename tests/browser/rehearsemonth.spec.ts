/**
 * A rehearsal at 600 ×. For hours: no frame of Now is without Sun or Moon. For a month: what lies in the database is what was written
 * down and nothing else, and what the page and its workers hold does not grow with the time. The phone's own hour and a quarter of it
 * is run through by the test's clock, timer by timer.
 */
import type { CDPSession } from '@playwright/test'
import { expect, type Page, test } from './rig.ts'
import { begin, driveTo, side, writeDown } from './robot.ts'
import { goTo, press } from './walk.ts'

/** Rows of all stores of all databases, parts of the second copy, and letters remembered beside them. */
const stored = (page: Page): Promise<{ rows: number; copies: number; remembered: number }> =>
  page.evaluate(async () => {
    const done = <T>(request: IDBRequest<T>) =>
      new Promise<T>((resolve, reject) => {
        request.onsuccess = () => resolve(request.result)
        request.onerror = () => reject(request.error)
      })
    let [rows, copies] = [0, 0]
    for (const { name } of await indexedDB.databases()) {
      const db = await done(indexedDB.open(name!))
      for (const store of db.objectStoreNames) rows += await done(db.transaction(store).objectStore(store).count())
      db.close()
    }
    for (const key of await caches.keys()) copies += (await (await caches.open(key)).keys()).length
    const remembered = Object.entries(localStorage).reduce(
      (n, [key, value]) => n + key.length + String(value).length,
      0,
    )
    return { rows, copies, remembered }
  })

/** What the page's workers hold after a collection, bytes by script; asked of each by the developers' protocol. */
async function workersOf(cdp: CDPSession): Promise<() => Promise<Record<string, number>>> {
  const sessions = new Map<string, string>()
  const waiting = new Map<number, (result: unknown) => void>()
  let n = 0
  cdp.on('Target.attachedToTarget', ({ sessionId, targetInfo: { type, url } }) => {
    if (type === 'worker') sessions.set(sessionId, url.replace(/.*\//, ''))
  })
  cdp.on('Target.detachedFromTarget', ({ sessionId }) => sessions.delete(sessionId))
  cdp.on('Target.receivedMessageFromTarget', ({ message }) => {
    const { id, result } = JSON.parse(message) as { id?: number; result?: unknown }
    if (id !== undefined) waiting.get(id)?.(result)
  })
  // Not flat: a session of a session can be reached no other way from here.
  await cdp.send('Target.setAutoAttach', { autoAttach: true, waitForDebuggerOnStart: false, flatten: false })
  const send = (sessionId: string, method: string) =>
    new Promise<unknown>(resolve => {
      const id = ++n
      waiting.set(id, resolve)
      void cdp.send('Target.sendMessageToTarget', { sessionId, message: JSON.stringify({ id, method }) })
    })
  return async () => {
    const used: Record<string, number> = {}
    for (const [sessionId, name] of sessions) {
      for (let k = 0; k < 3; k++) await send(sessionId, 'HeapProfiler.collectGarbage')
      const { usedSize } = (await send(sessionId, 'Runtime.getHeapUsage')) as { usedSize: number }
      used[name] = (used[name] ?? 0) + usedSize
    }
    return used
  }
}

test('a month of its time leaves no more than was written down, and the page no larger', async ({ page, context }) => {
  test.setTimeout(240_000)
  const cdp = await context.newCDPSession(page)
  await cdp.send('Performance.enable')
  const workers = await workersOf(cdp)
  const held = async () => {
    await goTo(page, '#now')
    await expect(page.locator('.body-name')).toHaveCount(2)
    for (let k = 0; k < 3; k++) await cdp.send('HeapProfiler.collectGarbage')
    const { metrics } = await cdp.send('Performance.getMetrics')
    const of = (name: string) => metrics.find(m => m.name === name)!.value
    const solving = Object.values(await workers()).reduce((sum, bytes) => sum + bytes, 0)
    return { heap: of('JSHeapUsedSize'), nodes: of('Nodes'), listeners: of('JSEventListeners'), solving }
  }
  await page.clock.install({ time: new Date('2027-01-15T20:00:00Z') })
  await page.goto('./')
  await begin(page, 'Tilt, then swing', 'First time', 3)
  const noted = async () => {
    await side(page, 'Time')
    await press(page, 'To the Sun’s noon')
    await driveTo(page, [40, 10])
    await writeDown(page, 'Sun')
    return stored(page)
  }
  /** Days of the rehearsal at 600 ×, with the receiver's meter looked at. */
  const days = async (count: number) => {
    await goTo(page, '#now')
    await side(page, 'Time')
    await page.getByRole('radio', { name: '600 ×' }).check()
    await side(page, 'Receiver')
    for (let day = 0; day < count; day++) await page.clock.runFor(144_000)
    await side(page, 'Time')
    await page.getByRole('radio', { name: 'Paused' }).check()
  }
  /** The rehearsal's clock as it is remembered whenever it is set going or halted. */
  const clockMs = () =>
    page.evaluate(() => {
      const key = Object.keys(localStorage).find(k => k.startsWith('moonplumb.rehearsal.'))!
      return (JSON.parse(localStorage.getItem(key)!) as { clockMs: number }).clockMs
    })
  await noted()
  await days(1)
  const first = await noted()
  const second = await noted()
  const each = { rows: second.rows - first.rows, copies: second.copies - first.copies }
  expect(each.rows).toBeGreaterThan(0)
  const before = await held()
  const from = await clockMs()
  for (const count of [10, 10, 10]) {
    await days(count)
    await noted()
  }
  const end = await stored(page)
  const after = await held()
  expect((await clockMs()) - from).toBeGreaterThan(29 * 86_400_000)
  expect(end.rows - second.rows).toBe(3 * each.rows)
  expect(end.copies - second.copies).toBeLessThanOrEqual(3 * each.copies)
  expect(end.remembered - second.remembered).toBeLessThan(100)
  // Half a megabyte as measured; one kilobyte kept at each of the 4320 seconds would be far over.
  expect(after.heap - before.heap).toBeLessThan(2_000_000)
  // The worker that solves is there, with its code and one station solved, and keeps no more of a month than of a day.
  expect(before.solving).toBeGreaterThan(1_000_000)
  expect(after.solving - before.solving).toBeLessThan(2_000_000)
  expect(after.nodes - before.nodes).toBeLessThan(100)
  expect(after.listeners - before.listeners).toBeLessThan(50)
})

test('at 600 × Sun and Moon stand on Now all the time', async ({ page }) => {
  await page.goto('./')
  await begin(page, 'Tilt, then swing', 'First time', 3)
  await expect(page.locator('.body-name')).toHaveCount(2)
  await side(page, 'Time')
  await page.getByRole('radio', { name: '600 ×' }).check()
  const seen = page.evaluate(
    () =>
      new Promise<{ frames: number; empty: number; hours: number }>(done => {
        const at = () => document.querySelector('.screen-utc')!.textContent!.replace(/.*?(\d\d):.*/, '$1')
        const hours = new Set<string>()
        let [frames, empty] = [0, 0]
        const look = () => {
          hours.add(at())
          frames++
          if (document.querySelectorAll('.body-name').length < 2) empty++
          // One answer's rows last two hours: less than that would not show that the next one comes in time.
          if (hours.size > 3) done({ frames, empty, hours: hours.size })
          else requestAnimationFrame(look)
        }
        look()
      }),
  )
  expect((await seen).empty).toBe(0)
})

/** The place "Sight" on an empty phone with one invented station: stamp, complete, list, edit, leave out, undo. */
import { bookOf, countedPit } from '../helpers/stations.ts'
import { expect, type Page, test } from './rig.ts'
import { openDemo } from './walk.ts'

const sunUp = '2026-06-10T10:00:00Z'
const minute = (n: number) => new Date(Date.parse(sunUp) + 60_000 * n).toISOString()

const book = (more: object = {}) => bookOf(countedPit(more))

async function withStation(page: Page, more: object = {}, clock: 'set' | 'real' = 'set'): Promise<void> {
  await openDemo(page, { book: book(more), ...(clock === 'set' && { time: sunUp }) })
}

const stored = (page: Page): Promise<Record<string, unknown>[]> =>
  page.evaluate(
    () =>
      new Promise((resolve, reject) => {
        const opening = indexedDB.open('moonplumb')
        opening.onerror = () => reject(opening.error)
        opening.onsuccess = () => {
          const db = opening.result
          const all: { id: string; revision: number; kind: string; deleted: boolean; body: Record<string, unknown> }[] =
            []
          const names = [...db.objectStoreNames]
          const read = db.transaction(names)
          for (const name of names) {
            read.objectStore(name).openCursor().onsuccess = event => {
              const cursor = (event.target as IDBRequest<IDBCursorWithValue | null>).result
              if (!cursor) return
              if (typeof cursor.value === 'object' && 'revision' in cursor.value) all.push(cursor.value)
              cursor.continue()
            }
          }
          read.oncomplete = () => {
            db.close()
            const current = new Map<string, (typeof all)[number]>()
            for (const r of all) if ((current.get(r.id)?.revision ?? 0) < r.revision) current.set(r.id, r)
            resolve([...current.values()].filter(r => r.kind === 'sighting' && !r.deleted).map(r => r.body))
          }
        }
      }),
  )

const action = (page: Page, name: string) => page.getByRole('button', { name, exact: true })

async function stampTheSun(page: Page): Promise<void> {
  await page.goto('#sight')
  await page.getByRole('radio', { name: 'Sun' }).check()
  await expect(page.getByText(/^az \d+\.\d°/)).toBeVisible()
  await action(page, 'On it: stamp the time').click()
  await expect(page.getByText(/^Stamped .*, 10:0/)).toBeVisible()
}

test('stamps first, completes later, lists, edits, leaves out and undoes', async ({ page }) => {
  await withStation(page)
  await stampTheSun(page)
  await expect(page.getByText('The time is kept in the book.')).toBeVisible()

  // What was to be dialled stands beside the fields, never in them.
  const azimuth = page.getByRole('textbox', { name: 'azimuth, degrees' })
  const elevation = page.getByRole('textbox', { name: 'elevation, counts' })
  await expect(azimuth).toHaveValue('')
  await expect(page.getByText(/To dial was \d+\.\d°/)).toBeVisible()
  await page.getByRole('button', { name: /^As dialled: \d+\.\d°/ }).click()
  await expect(azimuth).not.toHaveValue('')
  await azimuth.fill('131,5')
  await elevation.fill('589')
  await page.getByRole('radio', { name: 'strongest signal' }).check()
  await action(page, 'Keep this sighting').click()

  await expect(page.getByRole('heading', { name: 'Sun' })).toBeVisible()
  await expect(page.getByText(/The Sun stood .* of where the book expects it|The Sun stood where/)).toBeVisible()
  await page.getByRole('button', { name: 'All sightings' }).click()
  const row = page.getByRole('list', { name: 'Sightings' }).getByRole('button')
  await expect(row).toHaveCount(1)
  await expect(row).toContainText('131.5°, 589 counts')
  await expect(row).toContainText('used')

  await row.click()
  await page.getByRole('button', { name: 'Edit' }).click()
  await page.getByRole('textbox', { name: 'azimuth, degrees' }).fill('131.7')
  await action(page, 'Keep the changes').click()
  await expect(page.getByText('131.7°')).toBeVisible()
  await expect(page.getByText('History, 2 entries')).toBeVisible()

  await page.getByRole('radio', { name: 'leave out' }).click() // picked once it is kept
  await expect(page.getByText('Left out by hand.')).toBeVisible()
  await page.getByRole('button', { name: /^Undo: leave out/ }).click()
  await expect(page.getByText('Left out by hand.')).toHaveCount(0)
  await page.getByRole('button', { name: /^Undo: edit of/ }).click()
  await expect(page.getByText('131.5°')).toBeVisible()
  await page.getByRole('button', { name: 'Delete' }).click()
  await expect(page.getByText('No sightings yet.')).toBeVisible()
  await page.getByRole('button', { name: /^Undo: delete/ }).click()
  await expect(row).toHaveCount(1)
  expect(await stored(page)).toMatchObject([
    { lower: 131.5, upper: 589, method: 'signal-peak', target: { type: 'sun' } },
  ])
})

test('a shadow seen from in front is kept as the dish counts: left and right swapped', async ({ page }) => {
  await withStation(page)
  await stampTheSun(page)
  await page.getByRole('textbox', { name: 'azimuth, degrees' }).fill('131.5')
  await page.getByRole('textbox', { name: 'elevation, counts' }).fill('589')
  await page.getByRole('radio', { name: 'feed’s shadow' }).check()
  await expect(page.getByText('Sunlight gathers at the feed.')).toBeVisible()
  await page.getByRole('textbox', { name: 'Shadow beside the vertex' }).fill('22')
  await page.getByRole('radio', { name: 'right', exact: true }).check()
  await page.getByRole('textbox', { name: 'Shadow above or below the vertex' }).fill('11')
  await page.getByRole('radio', { name: 'above, toward UP' }).check()
  await expect(page.getByText('Not yet: where you stand.')).toBeVisible()
  await page.getByRole('radio', { name: 'in front of the dish' }).check()
  // f = 1.2 m: 22 mm to the left as the dish counts is the Sun 1.05° to the right; 8 mm over f is ± 0.38°.
  await expect(
    page.getByText(/The Sun stands 1\.05°.right, 0\.53°.low of the dish’s shadow line, ±.0\.38°\./),
  ).toBeVisible()
  await action(page, 'Keep this sighting').click()
  await expect(page.getByText(/22.mm left of and 11.mm above the vertex/)).toBeVisible()
  expect(await stored(page)).toMatchObject([{ method: 'shadow', shadow: { rightMm: -22, upMm: 11 } }])
})

test('a half sighting, and what was typed into it, outlives a reload', async ({ page }) => {
  await withStation(page)
  await stampTheSun(page)
  // Kept is what is acknowledged: 1 reload of 16 came before the database had answered.
  await expect(page.getByText('The time is kept in the book.')).toBeVisible()
  await page.getByRole('textbox', { name: 'azimuth, degrees' }).fill('131.5')
  await page.reload()
  await expect(page.getByText(/^Stamped .*, 10:0/)).toBeVisible()
  await expect(page.getByRole('textbox', { name: 'azimuth, degrees' })).toHaveValue('131.5')
  await page.goto('#sight')
  await page.getByRole('button', { name: /Stamped 10:0\d:\d\d\sUTC, readings missing/ }).click()
  await page.getByRole('button', { name: 'Throw away' }).click()
  await expect(page.getByText('readings missing')).toHaveCount(0)
  await page.getByRole('button', { name: /^Undo: discard/ }).click()
  await expect(page.getByText('readings missing')).toHaveCount(1)
})

test('readings noted on a second phone are joined to the stamp that lies within half a minute', async ({ page }) => {
  await withStation(page, {
    halfSightings: [
      { id: 'h1', utc: minute(0), time: 'stamped', target: { type: 'sun' }, monotonicMs: 1 },
      { id: 'h2', utc: minute(0.3), time: 'about', lower: 131.5, upper: 589 },
      { id: 'h3', utc: minute(5), time: 'about', lower: 140, upper: 600 },
    ],
  })
  await page.goto('#sight')
  await page.getByRole('button', { name: /A stamp and readings wait/ }).click()
  await expect(page.getByRole('button', { name: 'Join the two' })).toHaveCount(1)
  await page.getByRole('button', { name: /Sun: Stamped/ }).click()
  await page.getByText('Time, how sure, note, more').click()
  await page.getByRole('textbox', { name: 'Note' }).fill('by voice')
  await page.getByRole('button', { name: 'Join the two' }).click()
  await expect(page.getByRole('textbox', { name: 'azimuth, degrees' })).toHaveValue('131.5')
  await page.getByRole('radio', { name: 'strongest signal' }).check()
  await action(page, 'Keep this sighting').click()
  await expect(page.getByRole('heading', { name: 'Sun' })).toBeVisible()
  expect(await stored(page)).toMatchObject([
    { utc: minute(0), lower: 131.5, upper: 589, halfId: 'h1', note: 'by voice' },
  ])
})

test('300 sightings are listed and opened without a wait', async ({ page }) => {
  const sightings = Array.from({ length: 300 }, (_, i) => ({
    id: `s${i}`,
    utc: minute(-20 * i),
    target: { type: i % 2 === 0 ? 'sun' : 'moon' },
    lower: 131.5,
    upper: 400 + (i % 50),
    method: 'signal-peak',
    use: 'never',
  }))
  await withStation(page, { sightings }, 'real') // a set clock stands still while a frame is drawn
  await page.goto('#sight/list')
  const rows = page.getByRole('list', { name: 'Sightings' }).getByRole('button')
  await expect(rows).toHaveCount(300)
  const frames = await page.evaluate(async () => {
    const body = document.querySelector('.screen-body')!
    const frame = () => new Promise<number>(resolve => requestAnimationFrame(resolve))
    const times: number[] = []
    let before = await frame()
    for (let k = 1; k <= 30; k++) {
      body.scrollTop = (body.scrollHeight * k) / 30
      const after = await frame()
      times.push(after - before)
      before = after
    }
    return times.sort((a, b) => a - b)
  })
  // Ten rows at a jump; up to 50 ms were measured without a graphics chip and beside other tests. A gross fault shows.
  expect(frames[15]).toBeLessThan(150)
  await rows.nth(299).click()
  await expect(page.getByRole('heading', { name: 'Moon' })).toBeVisible()
})

test('with no room left the stamp stays on the screen, is completed, and is kept when there is room', async ({
  page,
}) => {
  await page.addInitScript(() => {
    for (const name of ['put', 'add'] as const) {
      const real = IDBObjectStore.prototype[name]
      IDBObjectStore.prototype[name] = function (this: IDBObjectStore, ...args: [unknown, IDBValidKey?]) {
        if ('noRoom' in window) throw new DOMException('no room', 'QuotaExceededError')
        return real.apply(this, args)
      }
    }
  })
  await withStation(page)
  await page.evaluate(() => Object.assign(window, { noRoom: true }))
  await stampTheSun(page)
  await expect(page.getByText('The phone has no room left.')).toBeVisible()
  await page.getByRole('textbox', { name: 'azimuth, degrees' }).fill('131.5')
  await page.getByRole('textbox', { name: 'elevation, counts' }).fill('589')
  await page.getByRole('radio', { name: 'strongest signal' }).check()
  await action(page, 'Keep this sighting').click()
  await expect(page.getByText('Not kept yet: sighting of the Sun')).toBeVisible()
  await expect(page.getByText('The time is kept in the book.')).toHaveCount(0)
  await page.getByRole('button', { name: 'Try again' }).click()
  await expect(page.getByText(/What the browser says.*QuotaExceededError: no room/)).toBeVisible()
  await page.evaluate(() => Reflect.deleteProperty(window, 'noRoom'))
  await page.getByRole('button', { name: 'Try again' }).click()
  await expect(page.getByRole('heading', { name: 'Sun', exact: true })).toBeVisible()
  expect(await stored(page)).toMatchObject([{ lower: 131.5, upper: 589 }])
})

/** The noon check from count-down to sighting, from behind and in front; the feed's advice; the check after a storm. */
import { readFileSync } from 'node:fs'
import { bookOf, countedPit } from '../helpers/stations.ts'
import { axeFinds } from './looks.ts'
import { expect, type Page, test } from './rig.ts'
import { openDemo, openScreen, press } from './walk.ts'

const DEMO = JSON.parse(readFileSync(new URL('./fixtures/meadow.fieldbook.json', import.meta.url), 'utf8'))

const PIT = bookOf(countedPit())

const withBook = (page: Page, book: unknown, time: string) => openDemo(page, { book, time })

/** Taps on the dish's face, in shares of the picture. */
async function tap(page: Page, x: number, y: number): Promise<void> {
  const face = page.getByRole('img', { name: 'The dish and the feed’s shadow' })
  await face.scrollIntoViewIfNeeded()
  const box = (await face.boundingBox())!
  await face.click({ position: { x: x * box.width, y: y * box.height } })
}

/** Types what the swing shows, some counts from what was to be dialled. */
async function swingTo(page: Page, more: number): Promise<void> {
  const hint = await page.getByText(/^Expected \d+.counts\. Enter/).textContent()
  await page.getByRole('textbox', { name: 'swing, counts' }).fill(String(Number(/\d+/.exec(hint!)![0]) + more))
}

/** The shadows in the book, in the order in which they were kept. */
const shadows = (page: Page): Promise<{ rightMm: number; upMm: number }[]> =>
  page.evaluate(
    () =>
      new Promise(resolve => {
        const opening = indexedDB.open('moonplumb')
        opening.onsuccess = () => {
          const db = opening.result
          const all: { place: number; body: { shadow?: { rightMm: number; upMm: number } } }[] = []
          const names = [...db.objectStoreNames]
          const read = db.transaction(names)
          for (const name of names)
            read.objectStore(name).openCursor().onsuccess = event => {
              const cursor = (event.target as IDBRequest<IDBCursorWithValue | null>).result
              if (!cursor) return
              if (cursor.value?.kind === 'sighting' && cursor.value.body?.shadow) all.push(cursor.value)
              cursor.continue()
            }
          read.oncomplete = () => {
            db.close()
            resolve(all.sort((a, b) => a.place - b.place).map(r => r.body.shadow!))
          }
        }
      }),
  )

test('counts down to noon, and a shadow tapped from behind and from in front is kept as the dish counts', async ({
  page,
}) => {
  await withBook(page, PIT, '2026-06-10T10:00:00Z')
  await openScreen(page, 'sight/noon', 'Noon check')
  // 12 h - 37.2 min of longitude - 0.6 min, the equation of time; 90° - 47.1° + 23.0° (both of the Sun from memory).
  await expect(page.getByText(/11:22.UTC.*65\.9° high in the south/)).toBeVisible()
  // The page's clock runs on while a busy machine works: what follows allows for a minute or two.
  await expect(page.getByText(/^1.h.2[012].min$/)).toBeVisible()
  await expect(page.getByText('180.0°')).toBeVisible()
  await expect(page.getByText(/Within reach that day from 0\d:\d\d to 1\d:\d\d.UTC/)).toBeVisible()
  await expect(page.getByText(/kW of sunlight on a spot/)).toBeVisible()
  // With nothing recorded, any azimuth may be zero.
  await expect(page.getByText(/^Too little is known of this mount yet/)).toBeVisible()
  // To an instant, not by a span: a span is counted from however late it has become by now.
  await page.clock.pauseAt(new Date('2026-06-10T11:20:05Z'))
  await page.clock.resume()
  await expect(page.getByText(/^([12].min.)?\d+.s$/)).toBeVisible()

  await press(page, 'Read the shadow')
  await expect(page.getByText('First say where you stand')).toBeVisible()
  await page.getByRole('radio', { name: 'behind the dish' }).check()
  await tap(page, 0.4, 0.45)
  await expect(
    page.getByText(/Its middle fell \d+.mm left of and \d+.mm above the vertex, seen from behind/),
  ).toBeVisible()
  await expect(page.getByText(/The Sun stands .*.right.*.low of the dish’s shadow line/)).toBeVisible()
  await expect(page.getByRole('textbox', { name: 'Time, UTC' })).toHaveValue(/^2026-06-10 11:2[0-3]:/)
  await press(page, /^As expected: 180/)
  await press(page, /^As expected: .*counts/)
  expect(await axeFinds(page)).toEqual([])
  // What is half done outlives a reload.
  await page.reload()
  await expect(page.getByText(/Its middle fell .* seen from behind/)).toBeVisible()
  await press(page, 'Keep this shadow')
  await expect(page.getByRole('heading', { level: 1, name: 'What the shadow says' })).toBeVisible()
  await expect(page.getByText('Kept in the book as a sighting.')).toBeVisible()

  await press(page, 'Read it again')
  await page.getByRole('radio', { name: 'in front of the dish' }).check()
  await tap(page, 0.4, 0.45)
  await expect(page.getByText(/seen from in front\./).first()).toBeVisible()
  await press(page, /^As expected: \d+\.\d°/)
  await press(page, /^As expected: .*counts/)
  await press(page, 'Keep this shadow')
  await expect(page.getByText(/2.readings, averaged/)).toBeVisible()
  const [behind, front] = await shadows(page)
  expect(behind!.rightMm).toBeLessThan(-20)
  expect(behind!.upMm).toBeGreaterThan(10)
  // The same tap from the other side: left and right change places, up stays up; one step of the picture allowed.
  expect(Math.abs(front!.rightMm + behind!.rightMm)).toBeLessThanOrEqual(1)
  expect(Math.abs(front!.upMm - behind!.upMm)).toBeLessThanOrEqual(1)
  await press(page, /^Undo: sighting of the Sun/)
  await expect(page.getByRole('heading', { level: 1, name: 'Where the shadow fell' })).toBeVisible()
})

test('tells a feed that is off where to go; the move is noted, and the advice is obeyed', async ({ page }) => {
  const book = structuredClone(DEMO)
  for (const s of book.stations[0].sightings) if (s.shadow) s.shadow.rightMm += 90
  await withBook(page, book, '2026-11-25T13:00:00Z')
  await openScreen(page, 'correct/feed', 'Shadow against signal')
  // The shadow stands too far to the right: the feed does too.
  // Every suspicion is followed in such a book: some seconds of work on a phone, more on a machine that is shared.
  await expect(page.getByText(/^Move the feed \d+.±.\d+.mm to the left.*seen from behind the dish\.$/)).toBeVisible({
    timeout: 60_000,
  })
  await expect(page.getByText('Transmitter off and locked off before hands go near the feed.')).toBeVisible()
  await press(page, 'I moved it: note how far')
  await press(page, /^As advised: \d+.mm to the left/)
  await press(page, 'Keep this change')
  await expect(page).toHaveURL(/#mount\/see\/change\//)
  // Nothing was sighted since: not done, and no new number to chase.
  await openScreen(page, 'correct/feed', 'Shadow against signal')
  await expect(page.getByText('Moved and not checked yet: leave the feed alone.')).toBeVisible({ timeout: 60_000 })
  await expect(
    page.getByText(/^To tell whether it is done: \d+.shadows? and \d+.Sun peaks? by signal, since/),
  ).toBeVisible()
  await expect(page.getByText(/^Move the feed/)).toHaveCount(0)
})

/** Keeps what the form of the check holds; the shadow where it is given, mm right of and below the vertex, else cloud. */
async function keepStorm(page: Page, shadow: [right: string, below: string] | null): Promise<void> {
  await expect(page.getByText('Say whether the shadow can be seen.')).toBeVisible()
  if (shadow === null) {
    await page.getByRole('radio', { name: 'cloud: no shadow' }).check()
    await press(page, 'Keep it: what moved?')
  } else {
    await page.getByRole('radio', { name: 'I can see it' }).check()
    await page.getByRole('radio', { name: 'behind the dish' }).check()
    await page.getByText('Type the millimetres').click()
    await page.getByRole('textbox', { name: 'Shadow beside the vertex' }).fill(shadow[0])
    await page.getByRole('radio', { name: 'right', exact: true }).check()
    await page.getByRole('textbox', { name: 'Shadow above or below the vertex' }).fill(shadow[1])
    await page.getByRole('radio', { name: 'below' }).check()
    await press(page, 'Keep both: what moved?')
  }
  await expect(page.getByRole('heading', { level: 1, name: 'What moved' })).toBeVisible()
}

test('after a storm: a shadow that moved at the peak means the feed, and the change is noted; a slipped counter is found; one peak that fits is no all-clear', async ({
  page,
}) => {
  await withBook(page, DEMO, '2026-11-25T10:00:00Z')
  await openScreen(page, 'sight/storm', 'After a storm')
  await expect(page.getByText(/do not climb in wind/)).toBeVisible()
  await press(page, 'On the peak: mark the time')
  await press(page, /^As expected: \d+\.\d°/)
  // A feed that went 45 mm to the right turns its beam 1.8° to the left (f = 1.2 m, BDF 0.82): the swing goes 21 counts farther.
  await swingTo(page, 21)
  await keepStorm(page, ['95', '10'])
  await expect(page.getByText(/^(The feed moved\.|Something moved: most likely the feed\.)$/)).toBeVisible()
  await expect(page.getByText(/^right by \d+.±.\d+.mm$/)).toBeVisible()
  await expect(page.getByText('Transmitter off and locked off before hands go near the feed.')).toBeVisible()
  expect(await axeFinds(page)).toEqual([])
  await press(page, 'Note the change')
  await expect(page).toHaveURL(/#mount\/change\/feed%253Aa\/2026-11-25T10/)
  await page.goBack()
  await press(page, 'Undo: check after a storm')
  await expect(page.getByRole('heading', { level: 1, name: 'After a storm' })).toBeVisible()

  // A slipped counter is found, and hands are warned of a dish that swings down.
  await press(page, 'On the peak: mark the time')
  await press(page, /^As expected: \d+\.\d°/)
  await swingTo(page, -60)
  await keepStorm(page, null)
  // One peak cannot tell a counter from a jack's pin: first or among what explains it as well.
  await expect(
    page.getByText(/^(Something moved: most likely|The ).*(jack of|clamp|counter|mount|dish|beam)/),
  ).toBeVisible()
  await expect(page.getByText(/clamp or counter of swing/).first()).toBeVisible()
  await expect(page.getByText(/Other explanations|moved\.$/).first()).toBeVisible()
  await expect(page.getByText(/^It costs up to/)).toBeVisible()

  // One peak that fits is no all-clear: it is said what would tell, and one more goes on with the same check.
  await press(page, 'Undo: check after a storm')
  await expect(page.getByRole('heading', { level: 1, name: 'After a storm' })).toBeVisible()
  await press(page, 'On the peak: mark the time')
  await press(page, /^As expected: \d+\.\d°/)
  await swingTo(page, 0)
  await keepStorm(page, null)
  await expect(
    page.getByText(/^Cannot tell yet. Nothing shows so far, but .* could have moved by more than the tolerance\.$/),
  ).toBeVisible()
  await expect(page.getByText('This is not an all-clear. Do what is listed below.')).toBeVisible()
  const wouldTell = page.getByRole('region', { name: 'What would show it' })
  await expect(wouldTell.getByRole('button').first()).toBeVisible()
  expect(await axeFinds(page)).toEqual([])
  const check = new URL(page.url()).hash.split('/').pop()!
  await openScreen(page, `sight/storm/more/${check}`, 'After a storm')
  await press(page, 'On the peak: mark the time')
  await press(page, /^As expected: \d+\.\d°/)
  await swingTo(page, 0)
  await keepStorm(page, null)
  await expect(page).toHaveURL(new RegExp(check))
  await expect(page.getByText('Sun by strongest signal', { exact: true }).and(page.locator('dt'))).toHaveCount(2)
  // From any sighting since there is a way back to it.
  await press(page, 'All sightings')
  await page.getByRole('button', { name: /Sun/ }).first().click()
  await press(page, 'Storm check: what it says now')
  await expect(page).toHaveURL(new RegExp(check))
})

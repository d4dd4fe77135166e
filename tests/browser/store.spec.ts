/** What happens round the store: no database, two tabs, reloads, backups; on the screens of a person who meets it. */
import { smallBook } from '../helpers/smallbook.ts'
import { expect, type Page, test } from './rig.ts'
import { box, goTo, handedOut, openDemo } from './walk.ts'

const press = (page: Page, name: string | RegExp) =>
  page
    .getByRole('button', { name, exact: typeof name === 'string' })
    .first()
    .click()

async function bring(page: Page): Promise<void> {
  await goTo(page, '#book/import')
  await box(page, 'Or paste its text').fill(JSON.stringify(smallBook()))
  await press(page, 'See what is in it')
  await press(page, /^Import \d/)
  await expect(page.getByText(/records imported/)).toBeVisible()
}
/** The same book by the demo's button. */
const withBook = (page: Page) => openDemo(page, { book: smallBook() })
const exported = async (page: Page): Promise<ReturnType<typeof smallBook>> => JSON.parse(await handedOut(page))

test('with neither database nor second copy the app works, says on every screen that nothing is kept, and exports', async ({
  page,
}) => {
  await page.addInitScript(() => {
    Object.defineProperty(globalThis, 'indexedDB', { value: undefined })
    Object.defineProperty(globalThis, 'caches', { value: undefined })
  })
  await page.goto('./')
  await expect(page.getByText('Nothing is kept')).toBeVisible()
  await press(page, 'Show me the book')
  await bring(page)
  for (const place of ['#now', '#mount', '#sight', '#correct', '#book', '#book/settings', '#mount/clock']) {
    await goTo(page, place)
    await expect(page.getByText('Nothing is kept').first(), place).toBeVisible()
  }
  expect((await exported(page)).stations[0].sightings).toHaveLength(smallBook().stations[0].sightings.length)
})

test('without a database the second copy carries the work over a reload, and the database takes it over', async ({
  page,
}) => {
  await withBook(page)
  await page.evaluate(() => sessionStorage.setItem('off', 'yes'))
  await page.addInitScript(() => {
    if (sessionStorage.getItem('off') === null) return
    const open = IDBFactory.prototype.open
    IDBFactory.prototype.open = function (this: IDBFactory, ...args: Parameters<typeof open>) {
      if (sessionStorage.getItem('off') !== null)
        throw new DOMException('Internal error opening backing store for indexedDB.open.', 'UnknownError')
      return open.apply(this, args)
    } as typeof open
  })
  await goTo(page, '#now')
  await page.reload()
  await expect(page.getByText('Shown from the second copy', { exact: true })).toBeVisible()
  for (const button of ['Try again', 'Export a backup', 'Rebuild the database'])
    await expect(page.getByRole('button', { name: button })).toBeVisible()
  await press(page, 'Try again')
  await expect(page.getByText('Tried once: it does not open yet.')).toBeVisible()
  await press(page, 'Show me the book')
  await goTo(page, '#mount/measure/dish-elevation')
  await expect(page.getByText('Shown from the second copy', { exact: true })).toBeVisible()
  await box(page, /stands at/)
    .first()
    .fill('30')
  await box(page, /stands at/)
    .nth(1)
    .fill('410')
  await box(page, /shows/i).first().fill('29.1')
  await press(page, 'Keep this level')
  // The kept record's own screen; the form's title has the word in it too, and going on from there was overtaken.
  await expect(page.getByRole('heading', { level: 1, name: 'A level', exact: true })).toBeVisible()
  const before = (await exported(page)).stations[0].levels.length
  expect(before).toBe(smallBook().stations[0].levels.length + 1)
  await page.evaluate(() => sessionStorage.removeItem('off'))
  await press(page, 'What to do')
  await press(page, 'Try again')
  await expect(page.getByText('Shown from the second copy', { exact: true })).toBeHidden()
  expect((await exported(page)).stations[0].levels).toHaveLength(before)
  await page.reload()
  expect((await exported(page)).stations[0].levels).toHaveLength(before)
})

test('a newer version in another tab is said at once, and what was typed is there after the reload that it advises', async ({
  page,
  context,
  watch,
}) => {
  watch.expected.push(/favicon/) // of the bare picture that the other tab shows
  await withBook(page)
  await goTo(page, '#mount/clock')
  await page
    .getByRole('radio', { name: /type|other/i })
    .last()
    .check()
  await box(page, /ahead|difference/i)
    .first()
    .fill('1.5')
  const other = await context.newPage()
  await other.goto('./icons/icon-192.png')
  await other.evaluate(
    () =>
      new Promise<void>((resolve, reject) => {
        const request = indexedDB.open('moonplumb', 2)
        request.onsuccess = () => {
          request.result.close()
          resolve()
        }
        request.onerror = () => reject(request.error)
      }),
  )
  await expect(page.getByText('A newer Moonplumb has taken over')).toBeVisible()
  await press(page, 'Load this page again')
  await expect(page.getByText(/last used by a newer version/)).toBeVisible()
  await press(page, 'Show me the book')
  await expect(box(page, /ahead|difference/i).first()).toHaveValue('1.5')
})

test('a form saved over what another tab wrote meanwhile asks which stands', async ({ page, context }) => {
  await withBook(page)
  const level = smallBook().stations[0].levels.find((l: { what: string }) => l.what === 'dish-elevation')!
  const edit = async (tab: Page, note: string) => {
    await goTo(tab, '#mount')
    await goTo(tab, `#mount/edit/level/${level.id}`)
    await box(tab, 'Note').fill(note)
  }
  await edit(page, 'mine')
  const other = await context.newPage()
  await other.goto('./')
  await edit(other, 'theirs')
  await press(other, 'Keep this level')
  await expect(other.getByText('theirs').first()).toBeVisible()
  await press(page, 'Keep this level')
  await expect(page.getByText('Changed in the meantime')).toBeVisible()
  await expect(page.getByText(/there now .?theirs.?, in your form .?mine/)).toBeVisible()
  await press(page, 'Back to the form')
  await expect(box(page, 'Note')).toHaveValue('mine')
  // The question waits for the form, also over a reload.
  await page.reload()
  await expect(box(page, 'Note')).toHaveValue('mine')
  await press(page, 'Keep this level')
  await press(page, 'Save mine')
  await expect(page.getByText('mine').first()).toBeVisible()
  const [kept] = (await exported(page)).stations[0].levels.filter((l: { id: string }) => l.id === level.id)
  expect(kept.note).toBe('mine')
})

test('the forms of Level, the clock and the import outlive a reload', async ({ page }) => {
  await withBook(page)
  await goTo(page, '#mount/mark')
  await box(page, / reads$/).fill('17')
  await goTo(page, '#mount/change')
  await box(page, 'Note').fill('re-shimmed')
  await goTo(page, '#mount/measure/dish-elevation')
  await box(page, /stands at/)
    .first()
    .fill('31.5')
  await goTo(page, '#book/import')
  await box(page, 'Or paste its text').fill('{"format":')
  await page.reload()
  await expect(box(page, 'Or paste its text')).toHaveValue('{"format":')
  await goTo(page, '#mount/mark')
  await expect(box(page, / reads$/)).toHaveValue('17')
  await goTo(page, '#mount/change')
  await expect(box(page, 'Note')).toHaveValue('re-shimmed')
  await goTo(page, '#mount/measure/dish-elevation')
  await expect(box(page, /stands at/).first()).toHaveValue('31.5')
  await press(page, 'Discard what I typed')
  await expect(page.getByRole('heading', { level: 1, name: 'Mount' })).toBeVisible()
  await goTo(page, '#mount/measure/dish-elevation')
  await expect(box(page, /stands at/).first()).toHaveValue('')
})

test('the reminder on the first screen makes a backup with one press, and is quiet once that is confirmed', async ({
  page,
}) => {
  await withBook(page)
  await goTo(page, '#now')
  await expect(page.getByText(/No backup yet: \d+\srecords are only on this phone/)).toBeVisible()
  const waiting = page.waitForEvent('download')
  await press(page, 'Export a backup')
  expect((await waiting).suggestedFilename()).toMatch(/\.fieldbook\.txt$/)
  await expect(page.getByText('Is the backup there?')).toBeVisible()
  await press(page, 'Yes, it is there')
  await expect(page.getByText(/No backup yet|newer than your last backup/)).toBeHidden()
})

test('an iPhone’s tab is told to install before it imports', async ({ page }) => {
  await page.addInitScript(() => {
    Object.defineProperty(navigator, 'standalone', { value: false })
    Object.defineProperty(navigator, 'maxTouchPoints', { value: 5 })
  })
  await page.goto('./#book/import')
  await expect(page.getByText(/Install first: this browser may clear a site that is not installed/)).toBeVisible()
})

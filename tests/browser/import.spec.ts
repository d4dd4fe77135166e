/** Two phones that export a book to each other, and a book so large that its import takes a while. */
import { writeFileSync } from 'node:fs'
import { smallBook } from '../helpers/smallbook.ts'
import { act } from './hands.ts'
import { HANDSET } from './handset.ts'
import { expect, type Page, test, unhurried } from './rig.ts'
import { box, goTo, handedOut, lookAt, press } from './walk.ts'

const row = (page: Page, label: string) => page.locator('.row').filter({ hasText: label }).locator('dd').first()

/** A field of the station typed again, by its own form; by quick hands, since the form has walks of its own. */
async function change(page: Page, step: string, field: string, value: string): Promise<void> {
  await goTo(page, '#book')
  await goTo(page, `#book/edit/st-1/${step}`)
  await act(
    page,
    { write: field, text: value, on: 'screen' },
    { press: 'Done: to the review', on: 'screen' },
    { press: 'Keep the station', on: 'screen' },
  )
  await expect(page.getByRole('heading', { name: 'Book' })).toBeVisible()
}
const station = async (page: Page) => JSON.parse(await handedOut(page)).stations[0]

test('two phones that changed one station are asked field by field, once, and end with the same book', async ({
  page,
  browser,
  baseURL,
}) => {
  const second = await browser.newContext(HANDSET)
  const other = await second.newPage()
  await page.goto('./')
  await other.goto(baseURL!)
  await lookAt(page, JSON.stringify(smallBook()))
  await press(page, /^Import/)
  await lookAt(other, await handedOut(page))
  await press(other, /^Import/)

  // The height on both, the diameter on one; the other has written twice, so its number is the higher one.
  await change(page, 'place', 'Height above sea', '700')
  await change(other, 'place', 'Height above sea', '655')
  await change(other, 'place', 'Height above sea', '650')
  await change(other, 'dish', 'Diameter', '3.1')

  await lookAt(page, await handedOut(other))
  await expect(row(page, 'Changed differently in both places')).toHaveText('1')
  const asked = page.getByRole('group', { name: /^Station .*: site, height$/ })
  await expect(asked.getByText('700')).toBeVisible()
  await expect(asked.getByText('650')).toBeVisible()
  await expect(page.getByText('dish, diameter: 3 → 3.1')).toBeVisible()
  await expect(page.getByRole('button', { name: /^Import/ })).toHaveAttribute('aria-disabled', 'true')
  await asked.getByRole('radio', { name: /^What is here/ }).check()
  await press(page, /^Import 1\srecord$/)
  await expect(page.getByText(/1\srecord imported/)).toBeVisible()
  expect(await station(page)).toMatchObject({ site: { heightM: 700 }, dish: { diameterM: 3.1 } })

  // Not asked again, here or there.
  await lookAt(page, await handedOut(other))
  await expect(page.getByText('Everything in it is here already.')).toBeVisible()
  await lookAt(other, await handedOut(page))
  await expect(row(other, 'Newer than here')).toHaveText('1')
  await press(other, /^Import 1\srecord$/)
  await expect(other.getByText(/1\srecord imported/)).toBeVisible()
  expect(await station(other)).toEqual(await station(page))
  await lookAt(page, await handedOut(other))
  await expect(page.getByText('Everything in it is here already.')).toBeVisible()
  await second.close()
})

/** A book of `n` sightings; about 200 bytes each. */
function large(sightings: number): string {
  const book = smallBook()
  const like = book.stations[0].sightings[3]
  for (let n = 0; n < sightings; n++)
    book.stations[0].sightings.push({ ...like, id: `many-${n}`, note: 'a sighting among very many '.repeat(2) })
  return JSON.stringify(book)
}

test('a book of 20 MB shows how far it is, and Stop leaves the book as it was', async ({ page }, info) => {
  const path = info.outputPath('large.json')
  const text = large(100_000)
  expect(text.length).toBeGreaterThan(20e6)
  writeFileSync(path, text)
  await page.goto('./#book/import')
  await page.getByLabel('Choose a file').setInputFiles(path)
  await expect(page.getByRole('progressbar')).toBeVisible()
  await expect(page.getByText('Stopping leaves the book as it is.')).toBeVisible()
  await press(page, 'Stop')
  await expect(page.getByText('Stopped. Nothing was imported.')).toBeVisible()
  await goTo(page, '#book')
  await expect(page.getByText('The book is empty.')).toBeVisible()
})

/** More than 2000, from where on the copies are brought level by a worker. */
const THOUSANDS = 2200

unhurried(
  'a book of some thousand records comes in whole in one step, and its writing can be stopped',
  async ({ page }) => {
    await page.goto('./#book/import')
    const file = { name: 'b.json', mimeType: 'application/json', buffer: Buffer.from(large(THOUSANDS)) }
    await page.getByLabel('Choose a file').setInputFiles(file)
    await press(page, /^Import/)
    // The writing may be over before the press comes: then all of it is there. What says so goes by itself, the undo stays.
    const over = page
      .getByText('Stopped. Nothing was imported.')
      .or(page.getByRole('button', { name: /^Undo: import 22\d\d records$/ }))
    const stop = page.getByRole('button', { name: 'Stop', exact: true })
    await stop.or(over).first().waitFor()
    await stop.click({ timeout: 3_000 }).catch(() => {})
    await expect(over).toBeVisible()
    await page.reload()
    await goTo(page, '#book/import')
    await page.getByLabel('Choose a file').setInputFiles(file)
    const act = page.getByRole('button', { name: /^Import 22\d\d\srecords$/ })
    await act.or(page.getByText('Everything in it is here already.')).waitFor()
    if (await act.isVisible()) {
      await act.click()
      await expect(page.getByText(/22\d\d\srecords imported/)).toBeVisible()
    }
    await goTo(page, '#book')
    await expect(page.getByText(/2205\ssightings/).first()).toBeVisible()
    await page.reload()
    await expect(page.getByText(/2205\ssightings/).first()).toBeVisible()
  },
)

test('a long text that is pasted is kept out of the field, and read all the same', async ({ page, context }) => {
  await context.grantPermissions(['clipboard-read', 'clipboard-write'])
  await page.goto('./#book/import')
  await page.evaluate(text => navigator.clipboard.writeText(text), large(300))
  await box(page, 'Or paste its text').focus()
  await page.keyboard.press('ControlOrMeta+V')
  await expect(page.getByText(/A text of 0\.0\d.MB is pasted/)).toBeVisible()
  await expect(box(page, 'Or paste its text')).toBeHidden()
  await press(page, 'See what is in it')
  await expect(row(page, 'New here')).toHaveText(/^3\d\d$/)
})

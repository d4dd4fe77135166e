/** A screen that throws all the same: one sentence, another place, the last step undone, the book as a file. */
import { readFileSync } from 'node:fs'
import { expect, test } from './rig.ts'
import { openDemo } from './walk.ts'

/** From now on every number with decimals throws when it is shown; back to what it was. */
const breakNumbers = () => {
  const page = window as unknown as { whole: typeof Number.prototype.toFixed }
  page.whole = Number.prototype.toFixed
  Number.prototype.toFixed = () => {
    throw new Error('made to throw')
  }
}
const mendNumbers = () => {
  Number.prototype.toFixed = (window as unknown as { whole: typeof Number.prototype.toFixed }).whole
}

test('a screen that throws says so in a sentence; the other places, undo and the book as a file stay in reach', async ({
  page,
  watch,
}) => {
  watch.expected.push(/made to throw/)
  await openDemo(page, { at: '#now' })
  await page.evaluate(breakNumbers)
  await page.getByRole('link', { name: 'Book' }).click()
  await expect(page.getByRole('alert')).toContainText('This screen cannot be shown. The book is safe')
  await expect(page.getByText('made to throw')).toBeVisible()

  const coming = page.waitForEvent('download')
  await page.getByRole('button', { name: 'Save the book as a file' }).click()
  const book = JSON.parse(readFileSync(await (await coming).path(), 'utf8'))
  expect(book.format).toBe('moonplumb-fieldbook')
  expect(book.stations).toHaveLength(1)
  await expect(page.getByRole('status').filter({ hasText: 'look among the downloads' })).toBeVisible()

  // Another place is tried again, and so is this one when the cause is gone.
  await page.evaluate(mendNumbers)
  await page.getByRole('link', { name: 'Correct' }).click()
  await expect(page.getByRole('heading', { name: 'Correct', level: 1 })).toBeVisible()
  await expect(page.getByRole('alert')).toHaveCount(0)
  await page.getByRole('link', { name: 'Book' }).click()
  await expect(page.getByRole('heading', { name: 'Book', level: 1 })).toBeVisible()

  // The step that brought the demo in can be undone from the broken screen: then there is no station, and nothing throws.
  await page.evaluate(breakNumbers)
  await page.getByRole('link', { name: 'Now' }).click()
  await page.getByRole('link', { name: 'Book' }).click()
  await expect(page.getByRole('alert')).toContainText('This screen cannot be shown')
  await page.getByRole('button', { name: /^Undo: / }).click()
  await expect(page.getByRole('button', { name: 'Open the demo', exact: true })).toBeVisible()
  await page.evaluate(mendNumbers)
})

test('on the home screen of iOS, where nothing can be saved, the book goes to the share sheet', async ({
  page,
  watch,
}) => {
  watch.expected.push(/made to throw/)
  await page.addInitScript(() => {
    Object.defineProperty(navigator, 'standalone', { value: true })
    navigator.canShare = () => true
    navigator.share = async data => {
      document.documentElement.dataset.shared = data?.files?.[0]?.name
    }
  })
  await page.goto('./')
  await page.getByRole('button', { name: 'Open the demo' }).click()
  await expect(page.getByText('Demo: invented, nothing here was measured.')).toBeVisible()
  await page.evaluate(breakNumbers)
  await page.getByRole('link', { name: 'Book' }).click()
  await page.getByRole('button', { name: 'Save the book as a file' }).click()
  await expect(page.getByRole('status').filter({ hasText: 'Shared.' })).toBeVisible()
  expect(await page.evaluate(() => document.documentElement.dataset.shared)).toMatch(/^moonplumb-.*\.fieldbook\.txt$/)
})

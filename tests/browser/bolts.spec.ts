/** The person's own adjusters: described, given in turns, edited and undone; what was turned is noted with what is expected. */
import { expect, test } from './rig.ts'
import { openBook, show } from './routes.ts'
import { box, press, write } from './walk.ts'

test('turns of one’s own screw: read, edited, undone, turned and noted', async ({ page }) => {
  await openBook(page, 'daylight')
  await press(page, /What to turn, and how far/)
  await expect(page).toHaveURL(/#correct\/bolts$/)
  const row = page.locator('.found .row', { hasText: 'West screw' })
  await expect(row.locator('dd').first()).toHaveText(/^2 turns anticlockwise, ±\s\d+ twelfths$/)
  await expect(row).toContainText('Raise the left-hand end of the tilt axis by')
  await expect(row).toContainText('Error left:')
  await expect(page.getByText('A dish with its jack unpinned')).toBeVisible()

  // A thread half as coarse takes twice the turns.
  await press(page, 'West screw')
  await expect(box(page, 'Name')).toHaveValue('West screw')
  await write(page, 'Thread: one turn moves it', 'M10')
  await expect(page.getByText('The thread must be a number above 0.')).toBeVisible()
  await write(page, 'Thread: one turn moves it', '1')
  await press(page, 'Keep the adjuster')
  await expect(page).toHaveURL(/#correct\/bolts$/)
  await expect(row.locator('dd').first()).toHaveText(
    /^(4 turns|3 turns and 11 twelfths|4 turns and 1 twelfth) anticlockwise/,
  )
  await press(page, /^Undo/)
  await expect(row.locator('dd').first()).toHaveText(/^2 turns anticlockwise/)

  // One more, of a number that nobody has measured.
  await show(page, 'correct/bolts/edit/new')
  await expect(page.getByText('The name is missing.')).toBeVisible()
  await write(page, 'Name', 'Pointer')
  await page.getByRole('radio', { name: /Zero: swing/ }).check()
  await page.getByRole('radio', { name: /Flange/ }).check()
  await write(page, 'Arm', '55')
  await press(page, 'Keep the adjuster')
  await expect(page.getByRole('button', { name: 'Pointer' })).toBeVisible()

  await press(page, 'Note what I turned')
  await expect(page).toHaveURL(/#mount\/change\/lower-axis$/)
  await expect(page.getByText(/^Expected after it: .*tilt axis/i)).toBeVisible()
  await press(page, 'Note this change')
  await expect(page).toHaveURL(/#mount\/see\/change\//)
})

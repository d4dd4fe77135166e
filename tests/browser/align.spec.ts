/**
 * Led from an empty phone: three answers, the list of the trade's steps, into the screens that do them and back; one left out and taken
 * up again, the network off; numbers carried over.
 */
import { aligned, NOW } from '../helpers/aligned.ts'
import { bookOf } from '../helpers/stations.ts'
import { expect, type Page, test, untilOffline } from './rig.ts'
import { box, goTo, openDemo, press, write } from './walk.ts'

test.slow()

const heading = (page: Page, name: string) => page.getByRole('heading', { level: 1, name })
const row = (page: Page, name: RegExp) => page.getByRole('region', { name: 'Steps' }).getByRole('button', { name })
const action = (page: Page, name: string) =>
  page.getByRole('region', { name: 'What to do' }).getByRole('button', { name })

test.describe('with the network off', () => {
  test.use({ serviceWorkers: 'allow' })

  test('a new station opens on its alignment, and each step leads into its screen and back', async ({
    page,
    context,
    watch,
  }) => {
    await page.clock.install({ time: '2026-05-05T09:00:00Z' })
    await page.goto('./')
    await untilOffline(page)
    await context.setOffline(true)
    watch.expected.push(/ERR_INTERNET_DISCONNECTED/)
    await press(page, 'Set up my station')
    await write(page, 'Latitude', '47 30')
    await write(page, 'Longitude', '9,3')
    await press(page, 'Next: Mount')
    await page.getByRole('radio', { name: /^Tilt, then swing/ }).check()
    await press(page, 'Next: Dish')
    await write(page, 'Diameter', '3')
    await page.getByRole('radio', { name: /^1296/ }).check()
    await press(page, 'Done: to the review')
    await press(page, 'Keep the station')

    await expect(heading(page, 'Align the mount')).toBeVisible()
    await expect(row(page, /Place and clock\s*Not started/)).toBeVisible({ timeout: 30_000 })
    await expect(row(page, /Mast plumb\s*Not for this mount/)).toBeVisible()
    await expect(row(page, /Readouts\s*Not started/)).toBeVisible()
    await action(page, 'Open: Place and clock').click()

    // The clock: what this dish needs, the screen that does it, and back by itself once it is kept.
    await expect(heading(page, 'Place and clock')).toBeVisible()
    await expect(page.getByText('Clock, known to')).toBeVisible()
    await expect(page.locator('.row').filter({ hasText: 'Clock, known to' })).toContainText(/66\ss/)
    await action(page, 'Check the clock').click()
    await expect(heading(page, 'Check the clock')).toBeVisible()
    await expect(page.getByRole('navigation', { name: 'Aligning the mount' })).toBeVisible()
    await page.getByRole('radio', { name: 'Type the difference' }).check()
    await box(page, 'The phone is ahead by').fill('0.4')
    await action(page, 'Keep this check').click()
    await expect(heading(page, 'Place and clock')).toBeVisible()
    await expect(page.getByText(/^Done, 5\sMay\s2026/)).toBeVisible()
    await expect(page.locator('.row').filter({ hasText: 'Clock, phone ahead' })).toContainText(/0\.4/)

    // The axes: by the button on top of the screen, and by Back.
    await press(page, 'All steps')
    await expect(row(page, /Place and clock\s*Done/)).toBeVisible()
    await row(page, /Axes by level/).click()
    await expect(page.getByText('Wanted: level of the tilt axis and elevation of the swing axis.')).toBeVisible()
    await action(page, 'Measure it with a level').click()
    await expect(heading(page, 'Level of the tilt axis')).toBeVisible()
    await press(page, 'Back to: Axes by level')
    await expect(heading(page, 'Axes by level')).toBeVisible()
    await action(page, 'Measure it with a level').click()
    await page.locator('.screen-header').getByRole('button', { name: 'Back' }).click()
    await expect(heading(page, 'Axes by level')).toBeVisible()
    await action(page, 'Measure it with a level').click()
    await box(page, 'It shows').fill('0.1')
    await box(page, /^Uncertainty/).fill('0.05')
    await action(page, 'Keep this level').click()
    await expect(heading(page, 'Axes by level')).toBeVisible()
    await expect(page.getByText('Wanted: elevation of the swing axis.')).toBeVisible()
    await expect(page.locator('.row').filter({ hasText: 'Tilt axis, off by' })).toContainText(/0\.10\s±\s0\.05°/)
    await expect(page.getByText(/^Inside 0\.2\d°/)).toBeVisible()
    await page.getByRole('button', { name: 'Undo: keep a level' }).click()
    await expect(page.getByText('Wanted: level of the tilt axis and elevation of the swing axis.')).toBeVisible()

    // Left out with a reason, undone, left out again, taken up.
    await goTo(page, 'align/references')
    await expect(page.getByText(/^Not for this mount: no axis counts/)).toBeVisible()
    await goTo(page, 'align/heading')
    await press(page, 'Leave this out')
    await press(page, 'Leave it out')
    await expect(page.getByText('Say why, in a word or two.').first()).toBeVisible()
    await box(page, 'Why').fill('cloudy all week')
    await action(page, 'Leave it out').click()
    await expect(row(page, /Rough heading\s*Left out.*cloudy all week/)).toBeVisible()
    await page.getByRole('button', { name: 'Undo: leave a step out' }).click()
    await expect(row(page, /Rough heading\s*Not started/)).toBeVisible()
    await page.getByRole('button', { name: 'Redo: leave a step out' }).click()
    await row(page, /Rough heading\s*Left out/).click()
    await press(page, 'Put it back')
    await expect(page.getByText('Not started.')).toBeVisible()
    await press(page, 'I have set it by the Sun’s line')
    await expect(page.getByText(/^As entered, 5\sMay\s2026/)).toBeVisible()

    // What the axes show was asked nowhere yet: the step says what that costs, asks, and is come back to.
    await goTo(page, 'align/readouts')
    await expect(page.getByText(/^Taken as degrees, with no stops/)).toBeVisible()
    await action(page, 'Say what tilt shows').click()
    await page.getByRole('radio', { name: /^Degrees/ }).check()
    await press(page, 'Done: to the review')
    await press(page, 'Keep the station')
    await expect(heading(page, 'Readouts')).toBeVisible()
    await expect(action(page, 'Say what swing shows')).toBeVisible()

    // From Now at any time; all of it is there after a reload.
    await goTo(page, 'now')
    await press(page, 'Align')
    await expect(row(page, /Place and clock\s*Done/)).toBeVisible()
    await page.reload()
    await expect(row(page, /Rough heading\s*As entered/)).toBeVisible({ timeout: 30_000 })
  })
})

test('the numbers carried over are remembered with their date, until the mount is changed', async ({ page }) => {
  await openDemo(page, { book: bookOf(aligned('az-over-el')), time: NOW, at: '#align' })
  await expect(row(page, /Check on another day\s*Done/)).toBeVisible({ timeout: 60_000 })
  await action(page, 'Open: Into the program').click()
  await press(page, 'I have carried the numbers over')
  await expect(page.getByText(/^Done, 31\sMay\s2026/)).toBeVisible({ timeout: 30_000 })
  await press(page, 'All steps')
  await expect(page.getByText(/^Nothing is open/)).toBeVisible()
  // A base that is turned an hour later.
  await page.clock.fastForward(3_600_000)
  await goTo(page, 'mount/change/lower-axis')
  await press(page, 'Note this change')
  await expect(page.getByText('Kept in the book')).toBeVisible()
  await goTo(page, 'align')
  await expect(row(page, /Into the program\s*Undone.*the base was moved/)).toBeVisible({ timeout: 60_000 })
  await expect(row(page, /Axes by level\s*Undone/)).toBeVisible()
  await expect(row(page, /Feed on the axis\s*Done/)).toBeVisible()
})

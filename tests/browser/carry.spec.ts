/** Into the program: what it can take, the one page, copied; kinds switched; the budget; a planted wrong sign found at the check points, offline. */
import { readFileSync } from 'node:fs'
import type { FieldBook } from '../../src/core/records/fieldbook.ts'
import { bookOf, gravelPit } from '../helpers/stations.ts'
import { axeFinds } from './looks.ts'
import { expect, type Page, test } from './rig.ts'
import { box, offlineWith, openDemo, openScreen, press } from './walk.ts'

const MEADOW: FieldBook = JSON.parse(readFileSync(new URL('./fixtures/meadow.fieldbook.json', import.meta.url), 'utf8'))
/** After the demo's last sighting, so that its solution does not change with the day of the test. */
const NOW = '2026-11-25T13:00:00Z'

// Each step solves and fits several pages: slow where the cores are shared.
test.slow()

const radio = (page: Page, name: RegExp) => page.getByRole('radio', { name })
const part = (page: Page, name: string) => page.getByRole('region', { name, exact: true })
const SLOW = { timeout: 60_000 }

/** A number of the page as it stands there, worth what it says. */
async function numberOf(page: Page, region: string, label: string): Promise<number> {
  const row = part(page, region).locator('.row').filter({ hasText: label })
  const text = (await row.locator('dd').first().textContent())!.replace('−', '-').replace('°', '')
  return Number(text)
}

async function pick(page: Page, aiming: RegExp, law: RegExp): Promise<void> {
  await openScreen(page, 'correct/software', 'For the program')
  await radio(page, aiming).check(SLOW)
  await radio(page, law).check(SLOW)
  await press(page, 'Show the page')
  await expect(part(page, 'Tilt')).toBeVisible(SLOW)
}

test('the question comes first; the page has just what was picked, large, with what it leaves; another kind is another page', async ({
  page,
  context,
}) => {
  await context.grantPermissions(['clipboard-read', 'clipboard-write'])
  await openDemo(page, { time: NOW, at: '#correct' })
  await press(page, 'For the tracking program')
  await expect(page.getByText('What can your program take?')).toBeVisible()
  // Which way a command and a reading go is said before either is asked about.
  await expect(
    page.getByText(/^A command is what the program sends to an axis.* A reading is what the axis shows/),
  ).toBeVisible()
  const show = page.getByRole('button', { name: 'Show the page' })
  await expect(show).toHaveAttribute('aria-disabled', 'true')
  // Every kind says what it leaves, and whether that is enough.
  await expect(radio(page, /^nothing/)).toHaveAccessibleName(/Not enough: leaves 0\.\d\d°/, SLOW)
  await expect(radio(page, /^where its axis points/)).toHaveAccessibleName(/Enough.*: leaves 0\.\d\d°/)
  await radio(page, /^where its axis points/).check()
  await radio(page, /^the jack’s own dimensions/).check()
  await show.click()

  await expect(part(page, 'The mount')).toContainText('Heading of the mount', SLOW)
  await expect(part(page, 'Swing')).toContainText('Arm to the jack’s fixed end')
  await expect(part(page, 'Swing')).toContainText('Counts per millimetre')
  await expect(page.getByText('What the program must assume')).toBeVisible()
  await expect(part(page, 'What remains')).toContainText(/Worst/)
  await expect(part(page, 'What remains')).toContainText(/azimuth \d+°, elevation \d+°/)
  const row = part(page, 'Swing').locator('.row dd').first()
  expect(await row.evaluate(e => Number.parseFloat(getComputedStyle(e).fontSize))).toBeGreaterThanOrEqual(28)
  await press(page, 'Copy the text')
  await expect(page.getByText(/^Copied\./).first()).toBeVisible()
  const copied = await page.evaluate(() => navigator.clipboard.readText())
  expect(copied).toMatch(/^Heron meadow \(demo\): Where its axis points; for each axis the jack's own dimensions\n/)
  expect(copied).toMatch(/Arm to the rod's end: 4\d\d\.\d\d mm\n/)

  // The choice stays over a reload; another kind is another page.
  await page.reload()
  await expect(part(page, 'Swing')).toContainText('Counts per millimetre', SLOW)
  await pick(page, /^another site/, /^a table/)
  await expect(part(page, 'The mount')).toContainText('Add to the azimuth there')
  await part(page, 'Swing')
    .getByRole('button', { name: /The rows of the table/ })
    .click()
  await expect(page.getByRole('table').getByRole('row')).toHaveCount(46) // 87° of swing by 2, both ends, and the head
  await pick(page, /^nothing/, /^a straight line/)
  await expect(part(page, 'Tilt')).toContainText(/R = .* A/)
  await expect(part(page, 'Tilt')).toContainText('add to the angle to get the command')
  await expect(part(page, 'Tilt')).toContainText('subtract from the reading to get the angle')
})

test('the budget says where to stop, how often to move and what the first move needs; the target table leaves readings out of reach empty, gives them when asked, and warns', async ({
  page,
}) => {
  await openDemo(page, { time: NOW })
  await openScreen(page, 'correct/software/budget', 'Limits, dead band, steps')
  await expect(page.getByText(/^\d\smin(\s\d+\ss)?$/).first()).toBeVisible(SLOW)
  await expect(part(page, 'Tilt')).toContainText(/Soft limit, low\s*2\.5°/)
  await expect(part(page, 'Swing')).toContainText(/The limit in the book is 0\scounts/)
  await expect(part(page, 'The first automatic move needs')).toContainText('Somebody at the power switch')
  await part(page, 'Swing').getByRole('button', { name: 'Measure its speed and overrun' }).click()
  await expect(page).toHaveURL(/#sight\/speed\/upper$/)

  // The target table leaves readings out of reach empty, gives them when asked, and warns.
  await openScreen(page, 'book/export/table', 'Export')
  await page.getByText('The text itself').click()
  const text = box(page, 'The text itself')
  await expect(text).toHaveValue(/,,,false/, SLOW)
  expect(await text.inputValue()).not.toMatch(/\d,\d+\.\d+,false/)
  await radio(page, /^given all the same/).check()
  await expect(page.getByText(/do not let a program drive by them/)).toBeVisible()
  // Another text is folded away again.
  await page.getByText('The text itself').click(SLOW)
  await expect(text).toHaveValue(/\d,\d+\.\d+,false/, SLOW)
})

test.describe('with the network off', () => {
  // Elsewhere it is blocked: it would serve a demo of its own.
  test.use({ serviceWorkers: 'allow' })

  test('a wrong sign that was typed is found at the check points; put right, it agrees', async ({
    page,
    context,
    watch,
  }) => {
    const book = structuredClone(MEADOW)
    await offlineWith({ page, context, watch }, book, NOW)
    await openScreen(page, 'correct/software/check', 'Check points')
    await expect(page.getByText('Nothing was carried over yet.')).toBeVisible(SLOW)
    await pick(page, /^nothing/, /^an offset/)
    const [tilt, swing] = [await numberOf(page, 'Tilt', 'Offset'), await numberOf(page, 'Swing', 'Offset')]
    expect(Math.abs(tilt)).toBeGreaterThan(0.3)
    await press(page, 'It is typed in: check it')
    await expect(page.getByText('Point the program at these')).toBeVisible()
    const targets = page.getByRole('region', { name: /^Azimuth \d+°, elevation \d+°$/ })
    await expect(targets.first()).toBeVisible(SLOW)

    // The paper mount's angles for the directions shown, by hand: heading 170°, no offset of the dish.
    const shown = async (sign: 1 | -1) => {
      for (const region of await targets.all()) {
        const name = (await region.getAttribute('aria-label'))!
        const [az, el] = /(\d+)°.* (\d+)°/
          .exec(name)!
          .slice(1)
          .map(x => (Number(x) * Math.PI) / 180) as [number, number]
        const heading = (book.stations[0]!.mount.headingDeg! * Math.PI) / 180
        const right = Math.cos(el) * Math.sin(az - heading)
        const forward = Math.cos(el) * Math.cos(az - heading)
        const angles = [Math.atan2(Math.sin(el), forward), Math.asin(right)].map(x => (x * 180) / Math.PI)
        await region.getByRole('textbox', { name: /^Tilt/ }).fill((angles[0]! + sign * tilt).toFixed(2))
        await region.getByRole('textbox', { name: /^Swing/ }).fill((angles[1]! + swing).toFixed(2))
      }
    }
    await shown(-1)
    await press(page, 'Check')
    await expect(page.getByText(/It looks as if the offset of tilt has the wrong sign/)).toBeVisible(SLOW)
    expect(await axeFinds(page)).toEqual([])

    await press(page, 'Back to what was typed')
    await shown(1)
    await press(page, 'Check')
    await expect(page.getByText(/^It agrees (with the page|at these targets)/)).toBeVisible(SLOW)
    // It outlives a reload.
    await page.reload()
    await expect(page.getByText(/^It agrees (with the page|at these targets)/)).toBeVisible(SLOW)
    // The book knows it too, once.
    await openScreen(page, 'align/carry', 'Into the program')
    await expect(page.getByText(/^Done, 25.Nov.2026\.$/)).toBeVisible(SLOW)
  })
})

test('a station with nothing sighted is sent to the sightings, and still has a budget', async ({ page }) => {
  await openDemo(page, { time: NOW, book: bookOf(gravelPit()) })
  await openScreen(page, 'correct/software', 'For the program')
  await expect(page.getByRole('button', { name: 'Record a sighting' })).toBeVisible(SLOW)
  await press(page, 'Limits, dead band and steps')
  await expect(part(page, 'Azimuth')).toContainText(/Soft limit, low\s*0\.5°/, SLOW)
  expect(await box(page, /.*/).count()).toBe(0)
})

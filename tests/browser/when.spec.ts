/** When: from the demo to the strip, a day, another month, the other end, both files, polarisation. */
import { readFileSync } from 'node:fs'
import type { Download } from '@playwright/test'
import ICAL from 'ical.js'
import { expect, type Page, test } from './rig.ts'
import { box, openDemo, openScreen, press, write } from './walk.ts'

const TIME = '2026-11-25T13:00:00Z'
test.use({ timezoneId: 'Europe/Berlin' })

/** The demo as the walks know it, its strip open. */
async function openWhen(page: Page): Promise<void> {
  await openDemo(page, { time: TIME, at: '#when' })
  await expect(page.getByText('Moon in reach', { exact: true })).toBeVisible()
}

/** The one big number. */
const big = async (page: Page): Promise<number> => Number(await page.locator('.big-value').first().textContent())

/** Where the browser put it; the name it wanted. */
async function saved(page: Page): Promise<{ name: string; text: string }> {
  const wait = page.waitForEvent('download')
  await press(page, 'Save as a file')
  const download: Download = await wait
  await expect(page.getByText('Saving. Look in the downloads.')).toBeVisible()
  return { name: download.suggestedFilename(), text: readFileSync(await download.path(), 'utf8') }
}

test('leads from Now to the hours, a tapped day, and the dial; shows the Sun, another month, and comes back to today; the roll of the UP mark, and the spatial offset', async ({
  page,
}) => {
  await openDemo(page, { time: TIME, at: '#now' })
  await page.getByRole('button', { name: /^Moon in reach \d+.h in 28.days/ }).click()
  await expect(page.getByRole('heading', { level: 1, name: 'When' })).toBeVisible()
  await expect(page.getByText('Moon in reach', { exact: true })).toBeVisible()
  expect(await big(page)).toBeGreaterThan(100)
  await expect(page.getByText(/^tonight 20:\d\d to 03:\d\d.UTC$/)).toBeVisible()
  await expect(page.getByText(/^21:\d\d to 04:\d\d.here$/)).toBeVisible()
  // The third row of the strip is the day after tomorrow.
  const strip = page.getByRole('img', { name: 'Moon in 28 days' })
  const area = (await strip.boundingBox())!
  await strip.click({ position: { x: area.width / 2, y: ((20 + 2.5 * 16) * area.width) / 358 } })
  await expect(page.getByRole('heading', { level: 1, name: /^Fri.27.Nov$/ })).toBeVisible()
  await expect(page.getByText('Rise, transit, set')).toBeVisible()
  await expect(page.getByText(/^begins at /).first()).toBeVisible()
  await expect(page.getByText(/Own echoes \d\.\d.dB (weaker|stronger) than at mean distance\./)).toBeVisible()
  await press(page, 'Day before')
  await expect(page.getByRole('heading', { level: 1, name: /^Thu.26.Nov$/ })).toBeVisible()
  await press(page, 'Drive to the Moon')
  await expect(page.getByRole('radio', { name: 'Moon' })).toBeChecked()

  // The Sun, another month by its button and by its name, and back to today.
  await openScreen(page, 'when', 'When')
  await expect(page.getByText('Moon in reach', { exact: true })).toBeVisible()
  const moon = await big(page)
  await page.getByRole('radio', { name: 'Sun' }).check()
  await expect(page.getByText('Sun in reach', { exact: true })).toBeVisible()
  expect(await big(page)).not.toBe(moon)
  await press(page, /^Show Dec.2026$/)
  await expect(page.getByText(/^in Dec.2026/)).toBeVisible()
  await expect(page.getByRole('img', { name: /^Sun in Dec.2026$/ })).toBeVisible()
  await page.getByText('Another month').click()
  await write(page, 'Month', 'June')
  await expect(page.getByText(/Write a month and a year from 1900 to 2180/)).toBeVisible()
  await write(page, 'Month', 'June 2027')
  await press(page, 'Show this month')
  await expect(page.getByText(/^in Jun.2027/)).toBeVisible()
  await press(page, 'Show 28 days from today')
  await expect(page.getByText(/^in 28 days/)).toBeVisible()

  // The roll of the UP mark over the pass, and the spatial offset once there is another end.
  await page.getByRole('radio', { name: 'Moon' }).check()
  await press(page, 'Polarisation')
  await expect(page.getByText('Rolled at the start')).toBeVisible()
  await expect(page.getByText(/^At 20:\d\d \d+° anticlockwise, highest at /)).toBeVisible()
  await expect(page.getByText(/^With circular feeds none of this matters/)).toBeVisible()
  await press(page, 'Set the other end for the spatial offset')
  await write(page, 'Locator', 'JO40')
  await press(page, 'Keep this place')
  await expect(page.getByText(/^The verticals of both ends (agree|stand \d+° apart)/)).toBeVisible()
})

test('with the other end by locator says what both have, in strip, day and list, over a reload; without it exports the calendar and the list', async ({
  page,
}) => {
  await openWhen(page)
  const alone = await big(page)
  await press(page, /^The other end of a contact/)
  await write(page, 'Locator', 'PM9')
  await expect(page.getByText('A locator has 2, 4, 6 or 8 characters, such as JN58 or JN58td.')).toBeVisible()
  await write(page, 'Locator', 'PM95')
  await expect(box(page, 'Latitude')).toHaveValue('35.500000')
  await expect(page.getByText('Locator PM95mm.')).toBeVisible()
  // What is typed stays over a reload.
  await page.reload()
  await expect(box(page, 'Latitude')).toHaveValue('35.500000')
  await press(page, 'Keep this place')
  await openScreen(page, 'when', 'When')
  await expect(page.getByText('Moon at both ends')).toBeVisible()
  const both = await big(page)
  expect(both).toBeGreaterThan(0)
  expect(both).toBeLessThan(alone)
  await expect(page.getByText(new RegExp(`here alone ${alone}.h`))).toBeVisible()
  await page.reload()
  await expect(page.getByText('Moon at both ends')).toBeVisible()
  await press(page, 'As a list')
  await expect(page.getByText(/^both ends \d\d:\d\d to \d\d:\d\d.UTC/).first()).toBeVisible()
  await page
    .getByRole('button', { name: /^Wed.25.Nov/ })
    .first()
    .click()
  await expect(page.getByText('At both ends', { exact: true }).first()).toBeVisible()
  await openScreen(page, 'when/partner', 'The other end')
  await press(page, 'Leave out the other end')
  await openScreen(page, 'when', 'When')
  await expect(page.getByText('Moon in reach', { exact: true })).toBeVisible()

  // The calendar, which a reader of calendars reads, and the list.
  await press(page, 'Export as a file or calendar')
  const said = page.getByText(/^\d+.windows of the Moon, \d+ hours, 25.Nov.2026 to 22.Dec.2026, times in UTC; in reach/)
  const count = Number(/^\d+/.exec((await said.textContent())!)![0])
  const ics = await saved(page)
  expect(ics.name).toBe('heron-meadow-demo-2026-11-25.when-moon.ics')
  const events = new ICAL.Component(ICAL.parse(ics.text)).getAllSubcomponents('vevent').map(c => new ICAL.Event(c))
  expect(events).toHaveLength(count)
  // From midnight in Berlin.
  expect(events[0]!.startDate.toJSDate().toISOString()).toBe('2026-11-24T23:00:00.000Z')
  expect(events[0]!.summary).toMatch(/^Moon, Heron meadow/)
  await page.getByRole('radio', { name: /^A list, CSV/ }).check()
  await expect(page.getByText(/when-moon\.csv$/)).toBeVisible()
  const csv = await saved(page)
  expect(csv.name).toBe('heron-meadow-demo-2026-11-25.when-moon.csv')
  const lines = csv.text.trimEnd().split('\r\n')
  expect(lines[0]).toBe('inUtc,outUtc,hours,maxElDeg,declinationDeg,distanceKm')
  expect(lines).toHaveLength(count + 1)
})

test('says why nothing is in reach', async ({ page }) => {
  const book = JSON.parse(readFileSync(new URL('./fixtures/meadow.fieldbook.json', import.meta.url), 'utf8'))
  book.stations[0].tolerance = { ...book.stations[0].tolerance, minElevationDeg: 89 }
  await openDemo(page, { time: TIME, book, at: '#when' })
  await expect(page.getByText('Nothing in reach: the Moon cannot be used in these days.')).toBeVisible()
  await expect(page.getByText(/^Of the hours in which it is up, the minimum elevation takes \d+.h/)).toBeVisible()
  await press(page, 'Export as a file or calendar')
  await expect(page.getByText('There is no window in these days: nothing to export.').first()).toBeVisible()
})

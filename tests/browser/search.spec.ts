/** The first search: from a station with nothing sighted to a first sighting, offline, over a reload; from the demo, where none is needed. */
import { bookOf, gravelPit } from '../helpers/stations.ts'
import { axeFinds } from './looks.ts'
import { expect, test } from './rig.ts'
import { goTo, handedOut, offlineWith, openDemo, openScreen, press, write } from './walk.ts'

/** Azimuth and elevation known to a few degrees. */
const PIT = gravelPit({
  priors: [
    { id: 'lowerZero', value: 0, sigma: 4 },
    { id: 'upperZero', value: 0, sigma: 4 },
  ],
})

test.describe('with the network off', () => {
  // Elsewhere it is blocked: it would serve a demo of its own.
  test.use({ serviceWorkers: 'allow' })

  test('nothing sighted: step by step until it is heard, over a reload, to a first sighting that says how little it knows', async ({
    page,
    context,
    watch,
  }) => {
    await offlineWith({ page, context, watch }, bookOf(PIT), '2026-06-10T11:00:00Z')
    await openScreen(page, 'sight', 'Drive to: Moon')
    await press(page, /First search/)
    await expect(page.getByText(/The Sun may be up to \d+/)).toBeVisible()
    await expect(page.getByText(/The Sun should be \d.*dB above cold sky\./)).toBeVisible()
    await expect(page.getByText(/Sunlight burns at the feed, and jacks move/)).toBeVisible()
    const minutes = page.getByText(/at most$/)
    const usual = await minutes.textContent()
    await write(page, 'Seconds for each step', '60')
    await expect(minutes).not.toHaveText(usual!)

    await press(page, 'Begin the search')
    await expect(page.getByRole('heading', { level: 1, name: /^Step 1 of \d+$/ })).toBeVisible()
    const readings = page.locator('.big-1 .big-value')
    await expect(readings.first()).toHaveText(/^1[67]\d\.\d°$/)
    const first = await readings.allTextContents()
    await press(page, 'Nothing here: next')
    await expect(page.getByRole('heading', { level: 1, name: /^Step 2 of/ })).toBeVisible()
    await expect(readings.first()).toHaveText(/^\d/)
    expect(await readings.allTextContents()).not.toEqual(first)
    await press(page, 'Nothing here: next')
    await page.reload()
    await expect(page.getByRole('heading', { level: 1, name: /^Step 3 of/ })).toBeVisible()
    await expect(readings.first()).toHaveText(/^\d/)
    expect(await axeFinds(page)).toEqual([])

    await press(page, 'Heard it')
    await expect(page.getByText('Kept as the first sighting')).toBeVisible()
    await expect(page.getByText(/uncertainty of 7\.\d° until you have peaked/)).toBeVisible()
    const book = JSON.parse(await handedOut(page, /^The field book/))
    expect(book.stations[0].sightings).toHaveLength(1)
    expect(book.stations[0].sightings[0]).toMatchObject({ target: { type: 'sun' }, method: 'signal-peak' })
    expect(book.stations[0].sightings[0].sigmaDeg).toBeGreaterThan(7)

    // Undone, the search goes on where it was.
    await openScreen(page, 'sight/search', 'First search')
    await press(page, /^Undo: sighting of the Sun/)
    await expect(page.getByRole('heading', { level: 1, name: /^Step 3 of/ })).toBeVisible()
    await expect(readings.first()).toHaveText(/^\d/)
    await press(page, 'Heard it')
    await press(page, 'Peak on it and mark')
    await expect(page.getByRole('heading', { level: 1, name: 'Drive to: Sun' })).toBeVisible()
    await goTo(page, 'sight/search')
    await expect(page.getByRole('button', { name: /^Begin the search|^Drive to the Sun/ })).toBeVisible()
  })
})

test('a mount of which nobody knows where it faces is told to find that first, and how long it takes otherwise', async ({
  page,
}) => {
  await openDemo(page, { book: bookOf(gravelPit()), time: '2026-06-10T11:00:00Z' })
  await openScreen(page, 'sight/ways', 'Other methods')
  await press(page, /^First search/)
  await expect(page.getByText(/Nobody knows yet which way this mount faces/)).toBeVisible()
  await expect(page.getByText(/That takes \d+.h/)).toBeVisible()
  await press(page, /^The Sun’s line/)
  await expect(page.getByRole('heading', { level: 1, name: 'The Sun’s line' })).toBeVisible()
})

test('at night it says when; in the demo, well known, none is needed', async ({ page }) => {
  await openDemo(page, { time: '2026-11-25T21:00:00Z' })
  await openScreen(page, 'sight/search', 'First search')
  await expect(page.getByText(/The Sun is too low to search for\. It is high enough from \d\d:\d\d/)).toBeVisible()
  await page.clock.pauseAt(new Date('2026-11-26T12:00:00Z'))
  await page.clock.resume()
  await expect(page.getByText('No search is needed: the Sun should be in the beam.')).toBeVisible()
  await press(page, 'Drive to the Sun')
  await expect(page.getByRole('heading', { level: 1, name: 'Drive to: Sun' })).toBeVisible()
})

/** The place "Correct" on the demo station: every screen of it, an outlier taken back in and let go, a suspicion put aside. */
import { readFileSync } from 'node:fs'
import { expect, type Page, test } from './rig.ts'
import { type Opening, openDemo, openScreen } from './walk.ts'

const DEMO = JSON.parse(readFileSync(new URL('./fixtures/meadow.fieldbook.json', import.meta.url), 'utf8'))
/** After the demo's last sighting, so that its solution does not change with the day of the test. */
const NOW = '2026-11-25T13:00:00Z'

// Each test solves several times and looks at several screens whole: slow where the cores are shared.
test.slow()

const withBook = (page: Page, book: unknown, at?: Opening['at']) =>
  openDemo(page, { book, time: NOW, ...(at && { at }) })

async function withDemo(page: Page, { book = DEMO, at = '#correct' }: Opening = {}): Promise<void> {
  await withBook(page, book, at)
  await expect(page.getByText('Own echoes lose less than')).toBeVisible()
}

test('one view has what own echoes lose, the mount with what to turn, and the act; below it the program, what is known, what fits, the sky and the feed', async ({
  page,
}) => {
  await withDemo(page)
  await expect(page.getByText('Own echoes lose less than')).toBeVisible()
  await expect(page.getByText(/^allowed 0\.5/)).toContainText(/0\.\d.dB one way/)
  await expect(page.getByText(/^Demo: invented/)).toBeVisible()
  const spanner = page.getByRole('region', { name: 'With a spanner' })
  const drawing = spanner.getByRole('img', { name: 'What to turn' })
  await expect(drawing).toBeInViewport({ ratio: 1 })
  await expect(drawing).toHaveAccessibleDescription(/raise this end: 0\.\d.±.0\.\d°/)
  await expect(spanner.getByText(/^Caution: dish propped or tied, no wind, not alone/)).toBeInViewport({ ratio: 1 })
  await expect(page.getByRole('button', { name: 'Note what I turned' })).toBeInViewport({ ratio: 1 })
  const known = page.getByRole('region', { name: 'How well it is known' })
  await expect(known.getByRole('listitem').filter({ hasText: 'heading' })).toContainText(/±.\d/)
  await expect(known).toContainText(/Error left: 0\.\d\d° from too few sightings, 0\.\d\d° from counts and play/)

  await page.getByRole('button', { name: 'Every number found' }).click()
  const turn = page.getByRole('region', { name: 'With a spanner' })
  await expect(turn).toContainText(/Raise the left-hand end of the tilt axis by 0\.\d.±.0\.\d°/)
  // An open parameter is a range, never a value with a ±.
  const open1 = page.getByRole('region', { name: 'Not known yet' })
  await expect(open1).toContainText('Mount turned, seen from above')
  await expect(open1).toContainText(/between .* and .*anticlockwise/)
  await expect(open1).not.toContainText('±')
  await expect(page.getByRole('region', { name: 'Numbers for the program, not for a spanner' })).toContainText(
    'Jack of swing',
  )
  await openScreen(page, 'correct', 'Correct')
  await page.getByRole('button', { name: 'Note what I turned' }).click()
  await expect(page).toHaveURL(/#mount\/change\/lower-axis$/)

  // What is set aside is not "nothing", and leads to the sightings.
  await openScreen(page, 'correct', 'Correct')
  await page.getByRole('button', { name: /What looks wrong\s*1 set aside/ }).click()
  await expect(page.getByText(/^Nothing looks wrong with the mount, but one sighting is set aside/)).toBeVisible()
  await page.getByRole('button', { name: 'How well each sighting fits' }).click()
  await expect(page).toHaveURL(/#correct\/left$/)

  // A mark in the drawing says which sighting it is, and leads to it.
  const mark = page.getByRole('button', { name: /9\.8°\shigh, set aside as an outlier/ })
  await mark.click({ force: true })
  await expect(page.getByRole('status').filter({ hasText: 'set aside as an outlier' })).toBeVisible()
  await page.getByRole('button', { name: 'See this sighting' }).click()
  await expect(page).toHaveURL(/#sight\/see\/demo-sighting-7$/)

  // The sky is drawn with what is reached and sighted, and the loss before and after.
  await openScreen(page, 'correct/sky', 'The sky')
  await expect(page.getByRole('group', { name: 'The sky over the station' })).toBeVisible()
  await expect(page.getByRole('button', { name: /^Worth doing next: Moon by/ })).toBeAttached()
  await expect(page.getByRole('region', { name: 'Loss on echoes, with corrections and before' })).toBeVisible()

  // The feed of the demo is left alone, with what is known and what is open.
  await openScreen(page, 'correct', 'Correct')
  await page.getByRole('button', { name: 'Shadow against signal' }).click()
  await expect(page.getByText('Leave the feed alone')).toBeVisible()
  await expect(page.getByText('3 by shadow, 12 by signal')).toBeVisible()
  await expect(page.getByText(/^Open: whether the feed sags/)).toBeVisible()
})

test('an outlier is used always, the solution follows, and it is let go again', async ({ page }) => {
  await withDemo(page)
  await page.getByRole('button', { name: /How well each sighting fits\s*15 used, 1 set aside/ }).click()
  const aside = page.getByRole('region', { name: 'Set aside by the computation' })
  await expect(aside).toContainText('20 Oct 2026 17:45')
  await expect(aside).toContainText(/9\.8\d° off, 2\d.times its.±/)
  await aside.getByRole('button', { name: /Use it or leave it out/ }).click()

  const keep = page.getByRole('button', { name: 'Keep this choice' })
  await expect(page.getByText('Nothing is changed yet.')).toBeVisible()
  await page.getByRole('radio', { name: /used always/ }).check()
  await keep.click()
  await expect(page.getByText('Kept. The solution is computed again.')).toBeVisible()
  await openScreen(page, 'correct', 'Correct')
  // Ten degrees wrong and not to be doubted: six good ones no longer fit beside it.
  // A solve with one forced in takes several seconds where the machine has other work.
  await expect(page.getByRole('button', { name: /10 used, 6 set aside/ })).toBeVisible({ timeout: 30_000 })

  // It is remembered in the book, and taken back the same way.
  await page.reload()
  await page.getByRole('button', { name: /How well each sighting fits/ }).click()
  await expect(aside.getByRole('button')).toHaveCount(6)
  await expect(aside).not.toContainText('20 Oct 2026 17:45')
  const byHand = page.getByRole('region', { name: 'Decided by you' })
  await byHand.getByRole('button', { name: /used always/ }).click()
  await page.getByRole('radio', { name: /judged by the computation/ }).check()
  await keep.click()
  await expect(page.getByText('Kept. The solution is computed again.')).toBeVisible()
  await openScreen(page, 'correct', 'Correct')
  await expect(page.getByRole('button', { name: /15 used, 1 set aside/ })).toBeVisible({ timeout: 30_000 })
})

test('a counter that slipped is suspected with its evidence, put aside, and looked at again', async ({ page }) => {
  const book = structuredClone(DEMO)
  book.stations[0].references[1].reading = 12
  await withBook(page, book)
  await openScreen(page, 'correct/suspects', 'What looks wrong')
  const suspect = page.getByRole('region', { name: 'A counter slipped' })
  await expect(suspect).toContainText('inner stop')
  await expect(suspect).toContainText(/With it the misfit falls by \d+ \(χ²\): chance alone does that about once in/)
  await expect(suspect).toContainText('What would settle it')
  await suspect.getByRole('button', { name: 'Dismiss' }).click()
  await expect(page.getByText(/^Nothing looks wrong/)).toBeVisible()
  const aside = page.getByRole('region', { name: 'Dismissed by you' })
  await expect(aside).toContainText('inner stop')
  await page.reload()
  await expect(aside).toContainText('inner stop')
  await aside.getByRole('button', { name: 'Look at it again' }).click()
  await expect(suspect).toBeVisible()
  await suspect.getByRole('button', { name: 'Accept: note the change' }).click()
  await expect(suspect).toBeHidden()
  await expect(page.getByText(/^Nothing looks wrong/)).toBeVisible()
})

test('a base that turned is named with the days between which it did; noting it leaves one visit to compare', async ({
  page,
}) => {
  const moved = structuredClone(DEMO)
  const [station] = moved.stations
  // Every reading from 14 November on as if the swing jack had been pinned elsewhere: the counter shows 90 too few.
  for (const s of station.sightings) if (s.utc > '2026-11-10') s.upper -= 90
  station.references = []
  await withBook(page, moved)
  await openScreen(page, 'correct/moved', 'Has it moved?')
  await expect(page.getByText(/It moved between 1\sNov\s2026, 09:02\sUTC.* and 14\sNov\s2026, 08:40\sUTC/)).toBeVisible(
    {
      timeout: 60_000,
    },
  )
  await expect(page.getByText(/swing.* moved|moved: most likely/).first()).toBeVisible()
  await page.getByRole('button', { name: 'Note the change' }).click()
  await expect(page.getByLabel('When', { exact: true })).toHaveValue('2026-11-14 08:40:02')
  await expect(page.getByRole('checkbox', { checked: true })).toHaveCount(1)
  await page.getByRole('button', { name: 'Note this change' }).click()
  await expect(page.getByText('Kept in the book')).toBeVisible()
  await openScreen(page, 'correct/moved', 'Has it moved?')
  await expect(page.getByText(/^(Cannot tell|It holds)/)).toBeVisible({ timeout: 60_000 })
})

test('what is worth doing next says what it brings and how long it takes; one press leads to the screen that does it; the days to come; the recipe', async ({
  page,
  context,
}) => {
  await context.grantPermissions(['clipboard-read', 'clipboard-write'])
  await withDemo(page, { at: '#now' })
  const box = page.getByRole('button', { name: /^Worth doing next/ })
  await expect(box).toContainText(/Moon by strongest signal/)
  await expect(box).toContainText(/From 0\.\d.dB to 0\.\d.dB on your own echoes. About 5.min/)
  await openScreen(page, 'correct/next', 'Worth doing next')
  const moon = page.getByRole('region', { name: 'Moon by strongest signal' })
  await expect(moon).toContainText(/tilt\s*\d+\.\d°\s*swing\s*\d+\s*counts/)
  await expect(moon).toContainText(/From 0\.\d.dB to 0\.\d.dB/)
  await page.getByRole('button', { name: "Sun by feed's shadow" }).click()
  await expect(page).toHaveURL(/#sight\/noon$/)
  await openScreen(page, 'correct/next', 'Worth doing next')
  await page.getByRole('button', { name: 'Moon by strongest signal' }).click()
  await expect(page).toHaveURL(/#sight$/)
  await expect(page.getByRole('radio', { name: 'Moon' })).toBeChecked()

  // Sightings to come are drawn along the paths, and a row leads to the one that it names.
  await openScreen(page, 'correct/next', 'Worth doing next')
  await page.getByRole('button', { name: 'Sightings to come, along the paths' }).click()
  await expect(page.getByText(/^After these \d sightings own echoes should lose less than/)).toBeVisible({
    timeout: 60_000,
  })
  await expect(page.getByText(/Within the 0\.5\sdB that you allow/)).toBeVisible()
  await expect(page.getByRole('group', { name: 'The sky over the station' })).toBeVisible()
  const today = page.getByRole('region', { name: 'Worth making in the next 24 hours' })
  await today
    .getByRole('button', { name: /^Moon by strongest signal/ })
    .first()
    .click()
  await expect(page.getByRole('heading', { level: 1, name: 'Drive to: Moon' })).toBeVisible()

  // The recipe for a program of one's own is there to copy, to read or as JSON.
  await openScreen(page, 'correct/software', 'For the program')
  await page.getByRole('button', { name: 'The recipe, for your own program' }).click()
  await expect(page.getByRole('heading', { name: 'The recipe', exact: true })).toBeVisible()
  const copied = async () => {
    await page.getByRole('button', { name: 'Copy the text' }).click()
    await expect(page.getByText(/^Copied\./).first()).toBeVisible()
    return page.evaluate(() => navigator.clipboard.readText())
  }
  await expect(page.getByText(/\.recipe\.txt$/)).toBeVisible()
  expect(await copied()).toMatch(/^MOONPLUMB RECIPE 1\nStation: {3}"Heron meadow \(demo\)"/)
  await page.getByRole('radio', { name: /^JSON/ }).check()
  await expect(page.getByText(/\.recipe-json\.txt$/)).toBeVisible()
  const recipe = JSON.parse(await copied())
  expect(recipe).toMatchObject({ format: 'moonplumb-recipe', station: 'Heron meadow (demo)' })
  expect(recipe.checkPoints).toHaveLength(10)
})

test('of two feeds the one is named that a figure is for, and taking the other changes figure and software page, also after a reload', async ({
  page,
}) => {
  const book = structuredClone(DEMO)
  const [station] = book.stations
  const [ring] = station.feeds
  station.feeds.push({ id: 'narrow', name: '6 cm horn', frequencyMHz: 5760 })
  station.sightings.forEach((s: { method: string; feed?: string }) => {
    if (s.method !== 'optical') s.feed = ring.id
  })
  await withDemo(page, { book, at: '#now' })
  const figure = page.getByRole('img', { name: /^Echo loss/ })
  const wide = await figure.getAttribute('aria-label')
  await expect(page.getByRole('radio', { name: ring.name })).toBeChecked()
  await page.getByRole('radio', { name: '6 cm horn' }).check()
  // A beam of 1.2°, and a feed that no sighting has seen: half a beam is soon passed.
  await expect(page.getByText('As far as is known, the beam misses the Moon.')).toBeVisible()
  await expect(figure).toBeHidden()

  await openScreen(page, 'correct/software', 'For the program')
  await expect(page.getByRole('radio', { name: '6 cm horn' })).toBeChecked()
  await expect(page.getByRole('radio', { name: /^nothing/ })).toBeVisible()
  await expect(page.getByText(/(^|[^.\d])\d{3}.dB/)).toHaveCount(0)
  await page.reload()
  await expect(page.getByRole('radio', { name: '6 cm horn' })).toBeChecked()
  await page.getByRole('radio', { name: ring.name }).check()
  await openScreen(page, 'now', station.name)
  await expect(figure).toHaveAttribute('aria-label', wide!)
})

test('a station without sightings is told what would help, and nothing is dressed up as found', async ({ page }) => {
  const book = structuredClone(DEMO)
  Object.assign(book.stations[0], { sightings: [], levels: [], references: [], changes: [] })
  await withBook(page, book, '#now')
  await expect(page.getByRole('button', { name: 'Record a sighting' })).toBeVisible()
  await openScreen(page, 'correct', 'Correct')
  await expect(page.getByText('No sightings yet: the mount is known only as entered.')).toBeVisible()
  await expect(page.getByRole('region', { name: 'With a spanner' })).toHaveCount(0)
  await page.getByRole('button', { name: /^What looks wrong.*not known yet/ }).click()
  await expect(page.getByText(/^Not known yet: there is no sighting in which/)).toBeVisible()
  await expect(page.getByText('Nothing looks wrong.')).toHaveCount(0)
  await openScreen(page, 'correct/left', 'How they fit')
  await expect(page.getByText('No sightings yet.')).toBeVisible()
  await openScreen(page, 'correct/software', 'For the program')
  await expect(page.getByRole('button', { name: /^Copy/ })).toHaveCount(0)
})

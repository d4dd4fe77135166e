/** The place "Book": stations made and changed, names of every kind, deleting, import and export. */
import { cpSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { smallBook } from '../helpers/smallbook.ts'
import { DIST } from './build.mjs'
import { HANDSET } from './handset.ts'
import { askOffline, expect, isWhole, type Page, test, untilOffline } from './rig.ts'
import { serve } from './server.mjs'
import { relist } from './variants.mjs'
import { box, goTo, handedOut, lookAt, press } from './walk.ts'

const pick = (page: Page, name: string | RegExp) => page.getByRole('radio', { name }).check()

async function fill(page: Page, texts: Record<string, string>): Promise<void> {
  for (const [name, text] of Object.entries(texts)) await box(page, name).fill(text)
}

interface Wanted {
  name: string
  kind: RegExp
  heading?: string
  lower: (page: Page) => Promise<void>
  upper: (page: Page) => Promise<void>
}
const degrees = (low: string, high: string) => async (page: Page) => {
  await pick(page, /^Degrees/)
  await fill(page, { 'Lowest reading': low, 'Highest reading': high })
}
const counts = async (page: Page) => {
  await pick(page, /^Counts, evenly/)
  await fill(page, {
    'Counts at axis angle zero': '10',
    'Counts per degree': '−12,5',
    'Lowest reading': '-400',
    'Highest reading': '900',
  })
}
const jack = async (page: Page) => {
  await pick(page, /^Counts of a jack/)
  await fill(page, {
    'A, fixed arm': '620',
    'B, rod arm': '410',
    'L, jack at reading zero': '560',
    'Counts of the jack': '1.9',
    'Lowest reading': '0',
    'Highest reading': '820',
  })
  await pick(page, / grows$/)
  // Few can measure an angle between bolts: it comes from one place where the axis is known.
  await page.getByText('Find the angle at the pivot').click()
  await fill(page, { 'The counter there shows': '0', 'The angle of the axis there': '0' })
  // cos φ = (620² + 410² - 560²)/(2 · 620 · 410), by hand 0.4699: φ = 61.97°
  await expect(box(page, 'Angle at the pivot when the axis is at zero')).toHaveValue(/^61\.97/)
  await expect(page.getByText('Does the mount do that?')).toBeVisible()
}

/** From anywhere to a station in the book, by the steps of the form. */
async function make(page: Page, wanted: Wanted): Promise<void> {
  await goTo(page, '#book/new')
  await fill(page, { Latitude: '47 30 12 N', Longitude: '9,3', 'Height above sea': '640' })
  await expect(page.getByText('Locator JN47pm.')).toBeVisible()
  await press(page, 'Next: Mount')
  await pick(page, wanted.kind)
  if (wanted.heading) await fill(page, { Heading: wanted.heading })
  await press(page, 'Next: Dish')
  await fill(page, { Diameter: '2.4', Frequency: '1296' })
  await page.getByText('Focal ratio or depth').click()
  await pick(page, 'Its depth')
  await fill(page, { Depth: '375' })
  await expect(page.getByText('Makes f/D 0.4000')).toBeVisible()
  await press(page, 'Done: to the review')
  // Each line leads to one question, and back.
  await press(page, /^Name/)
  await fill(page, { 'Name of the station': wanted.name })
  await press(page, 'Done: to the review')
  await press(page, /^Feeds/)
  await fill(page, { 'Name of the feed': '23 cm ring' })
  await press(page, 'Done: to the review')
  await press(page, /^Lower axis/)
  await wanted.lower(page)
  await press(page, 'Done: to the review')
  await press(page, /^Upper axis/)
  await wanted.upper(page)
  await press(page, 'Done: to the review')
  await press(page, 'Keep the station')
  // A new station opens on its alignment.
  await expect(page.getByRole('heading', { name: 'Align the mount' })).toBeVisible()
  await goTo(page, '#book')
  await expect(page.getByRole('heading', { name: 'Book' })).toBeVisible()
}

/** The exported text, as the person would select it. */
const bare = (text: string): unknown =>
  JSON.parse(text, (key, value) => (['revision', 'exportedUtc', 'made', 'deletions'].includes(key) ? undefined : value))
const small = (change: (book: ReturnType<typeof smallBook>) => void = () => {}): string => {
  const book = smallBook()
  change(book)
  return JSON.stringify(book)
}
const inputsOf = (page: Page, label: RegExp | string) =>
  page.locator('.row').filter({ hasText: label }).locator('dd').first()

test.beforeEach(async ({ page }) => {
  await page.goto('./')
})

const KINDS: Wanted[] = [
  { name: 'Az el', kind: /^Azimuth and elevation/, lower: degrees('0', '360'), upper: counts },
  { name: 'Polar', kind: /^Polar/, lower: jack, upper: degrees('-30', '60') },
  { name: 'Tilted', kind: /^Tilt, then swing/, heading: '170', lower: degrees('0', '90'), upper: jack },
  { name: 'Tips', kind: /^X and Y/, heading: '0', lower: counts, upper: counts },
]
// Azimuth and elevation: journey.spec.ts; tilted: the backup below. Each from nothing to its numbers: fourkinds.spec.ts.
for (const wanted of isWhole ? [KINDS[1]!, KINDS[3]!] : [KINDS[1]!])
  test(`a station with the mount "${wanted.name}" is made from nothing and solved at once`, async ({ page }) => {
    await make(page, wanted)
    await expect(page.getByText(wanted.name).first()).toBeVisible()
    await goTo(page, '#now')
    await expect(page.getByRole('heading', { level: 1, name: wanted.name })).toBeVisible()
    await expect(page.getByText(/No sightings yet/)).toBeVisible()
    await page.reload()
    await expect(page.getByRole('heading', { level: 1, name: wanted.name })).toBeVisible()
    await goTo(page, '#book')
    await expect(page.getByText('47.5033° N, 9.3000° E')).toBeVisible()
  })

test('what is missing is said at its field, can be left for later, and nothing is kept until it is there', async ({
  page,
}) => {
  await goTo(page, '#book/new')
  await press(page, 'Next: Mount')
  await expect(page.getByText('Write a number here.').first()).toBeVisible()
  await expect(box(page, 'Latitude')).toBeFocused()
  await fill(page, { Latitude: '95' })
  await press(page, 'Next: Mount')
  await expect(page.getByText(/too large/)).toBeVisible()
  await press(page, 'Leave it for later')
  await goTo(page, '#book/new/over')
  const keep = page.getByRole('button', { name: 'Keep the station' })
  await expect(keep).toHaveAttribute('aria-disabled', 'true')
  await expect(page.getByText(/\d+\sanswers missing/).first()).toBeVisible()
  // What was written waits, also when the page is loaded again.
  await page.reload()
  await goTo(page, '#book/new/place')
  await expect(box(page, 'Latitude')).toHaveValue('95')
  await goTo(page, '#book')
  await expect(page.getByText('The book is empty.')).toBeVisible()
})

test('what nobody knows is guessed, marked with what it costs, and asked at its line of the review', async ({
  page,
}) => {
  await goTo(page, '#book/new')
  await box(page, 'Or your locator').fill('JN47pm')
  await expect(box(page, 'Latitude')).toHaveValue('47.520833')
  await press(page, 'Next: Mount')
  await pick(page, /^Tilt, then swing/)
  await press(page, 'Next: Dish')
  await fill(page, { Diameter: '3' })
  await pick(page, /^10.368/)
  await press(page, 'Done: to the review')
  await expect(page.getByText('The Sun may have to be searched for; the first sightings then find it.')).toBeVisible()
  await press(page, /^Upper axis/)
  await pick(page, /^Counts of a jack/)
  await fill(page, { 'L, jack at reading zero': '560', 'Counts of the jack': '1.9' })
  await pick(page, / grows$/)
  await expect(page.getByText(/Empty: [\d.]+\smm, a guess. Known to 25\s% only/).first()).toBeVisible()
  await press(page, 'Done: to the review')
  await expect(page.getByText(/^Known to 25\s% only/)).toBeVisible()
  await press(page, 'Keep the station')
  await expect(page.getByRole('heading', { name: 'Align the mount' })).toBeVisible()
  await goTo(page, '#book')
  await expect(page.getByText('stops not known').first()).toBeVisible()
  const [station] = JSON.parse(await handedOut(page)).stations
  expect(Object.keys(station.guesses)).toContain('mount.upper.readout.baseArmMm')
  // Answered later, it is no guess any more.
  await goTo(page, '#book')
  await press(page, 'View or edit this station')
  await press(page, /^Upper axis/)
  await fill(page, { 'A, fixed arm': '620', 'B, rod arm': '410' })
  await press(page, 'Done: to the review')
  await press(page, 'Keep the station')
  await expect(page.getByRole('heading', { name: 'Book' })).toBeVisible()
  const [known] = JSON.parse(await handedOut(page)).stations
  expect(known.mount.upper.readout).toMatchObject({ baseArmMm: 620, rodArmMm: 410 })
  expect(Object.keys(known.guesses)).not.toContain('mount.upper.readout.baseArmMm')
})

test('a place comes from the phone, from a locator, or typed; a phone that may not tell it leaves nothing to stop', async ({
  page,
  context,
}) => {
  await goTo(page, '#book/new/place')
  await press(page, 'Find it by the phone')
  await expect(page.getByText(/does not share its position with this page/)).toBeVisible()
  await expect(page.getByRole('button', { name: 'Stop', exact: true })).toHaveCount(0)
  await press(page, 'Type the place instead')
  await expect(page.getByRole('button', { name: 'Find it by the phone' })).toBeVisible()
  await context.grantPermissions(['geolocation'])
  await context.setGeolocation({ latitude: -33.5, longitude: 151.25, accuracy: 12 })
  await press(page, 'Find it by the phone')
  await expect(page.getByText('33.50000° S, 151.25000° E')).toBeVisible()
  await expect(page.getByText(/Good to 12.m \(95\s%\)/)).toBeVisible()
  await expect(page.getByText(/100\sm out moves the Moon by a thousandth/)).toBeVisible()
  await expect(box(page, 'Latitude')).toHaveValue('−33.500000')
  await box(page, 'Or your locator').fill('jn58td')
  await expect(box(page, 'Latitude')).toHaveValue('48.145833')
  await expect(box(page, 'Longitude')).toHaveValue('11.625000')
  await box(page, 'Or your locator').fill('JN58yd')
  await expect(page.getByText('The third pair goes from A to X.')).toBeVisible()
})

test('a changed station keeps everything else, unknown fields too, can be undone, and its older state restored; a feed that sightings need stays', async ({
  page,
}) => {
  const text = small(book => {
    book.stations[0].unheardOf = { a: [1, null] }
    book.stations[0].site.latDeg = 47.12345678901234
  })
  await lookAt(page, text)
  await press(page, /^Import \d+\srecords$/)
  await press(page, 'To the book')

  // An older state of a record is seen, and restored.
  await press(page, 'View or edit this station')
  await press(page, /^Name/)
  await box(page, 'Name of the station').fill('Plainer')
  await press(page, 'Done: to the review')
  await press(page, 'Keep the station')
  await expect(page.getByText('Plainer').first()).toBeVisible()
  await press(page, 'History and undo')
  await press(page, /^Station .?Plainer/)
  await expect(page.getByText(/name: .?Quarry rim.? → .?Plainer/)).toBeVisible()
  await press(page, 'Restore this version')
  await expect(page.getByText('Restored.')).toBeVisible()
  await goTo(page, '#book')
  await expect(page.getByText('Quarry rim', { exact: true })).toBeVisible()

  await press(page, 'View or edit this station')
  await press(page, /^Dish/)
  await fill(page, { Diameter: '3.1' })
  await press(page, 'Done: to the review')
  await press(page, 'Keep the station')
  await expect(page.getByText(/3\.10\sm, f\/D 0\.40/)).toBeVisible()
  const changed = JSON.parse(text)
  changed.stations[0].dish.diameterM = 3.1
  expect(bare(await handedOut(page))).toEqual(bare(JSON.stringify(changed)))
  await goTo(page, '#book')
  await press(page, /^Undo: change/)
  await expect(page.getByText(/3\.00\sm, f\/D 0\.40/)).toBeVisible()
  expect(bare(await handedOut(page))).toEqual(bare(text))

  // A feed that sightings need cannot be taken away, and they are named.
  await goTo(page, '#book/edit/st-1/feeds')
  await press(page, 'Remove feed 1')
  await press(page, 'Done: to the review')
  await expect(page.getByText(/These records of the station do not fit/)).toBeVisible()
  await expect(page.getByText(/Sighting of the Moon, 27\sApr\s2026 20:14\sUTC: there is no feed/)).toBeVisible()
  await expect(page.getByRole('button', { name: 'Keep the station' })).toHaveAttribute('aria-disabled', 'true')
  await press(page, 'Discard these changes')
  await expect(page.getByText('9 cm horn')).toBeVisible()
})

const HEBREW = '\u05d0\u05d1\u05d2 '.repeat(75)
const NAME = `<script>alert(1)</script><img src=x onerror=alert(2)> abc\u202edef half \ud800 pair ${HEBREW}end`
const SEEN =
  /<script>alert\(1\)<\/script><img src=x onerror=alert\(2\)> abc\ufffddef half \ufffd pair \u05d0\u05d1\u05d2 \u05d0/

test('script, marks that turn the text round, a lone surrogate and 300 characters of Hebrew in a name are text everywhere, and go out and in again to the character', async ({
  page,
}) => {
  page.on('dialog', dialog => {
    throw new Error(`a name ran: ${dialog.message()}`)
  })
  await lookAt(
    page,
    small(book => {
      book.stations[0].name = NAME
      book.stations[0].feeds[0].name = NAME
      book.stations[0].references[0].mark = NAME
    }),
  )
  await press(page, /^Import/)
  await press(page, 'To the book')
  for (const hash of ['#book', '#book/history', '#book/delete', '#book/ready', '#book/edit/st-1/feeds', '#now']) {
    await goTo(page, hash)
    await expect(page.locator('h1')).toBeVisible()
    if (hash === '#book' || hash === '#book/delete')
      await expect(page.locator('bdi, .confirm-name').filter({ hasText: SEEN }).first()).toBeVisible()
    expect(await page.evaluate(() => document.querySelectorAll('main script, main img').length)).toBe(0)
    const wide = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth)
    expect(wide, `${hash} does not scroll sideways`).toBeLessThanOrEqual(0)
  }
  // A form holds what was typed; a text box may show a lone half as it likes, the book keeps it.
  const out = JSON.parse(await handedOut(page))
  expect(out.stations[0].name).toBe(NAME)
  expect(out.stations[0].references[0].mark).toBe(NAME)
})

test('a station is deleted by its name, leaves a copy, and comes back from it', async ({ page }) => {
  await lookAt(page, small())
  await press(page, /^Import/)
  const before = bare(await handedOut(page))
  await goTo(page, '#book')
  await press(page, 'Delete this station')
  const word = page.getByRole('button', { name: 'Delete the station' })
  await expect(word).toBeDisabled()
  await box(page, 'Name').fill('Quarry')
  await expect(word).toBeDisabled()
  await box(page, 'Name').fill('Quarry rim')
  await word.click()
  await expect(page.getByText('The book is empty.')).toBeVisible()
  await page.reload()
  await press(page, 'Deleted stations')
  await expect(page.getByText('Quarry rim')).toBeVisible()
  await press(page, 'Restore it')
  await press(page, /^Import \d+\srecords$/)
  await expect(page.getByText(/records imported/)).toBeVisible()
  expect(bare(await handedOut(page))).toEqual(before)
})

test('the demo is thrown away with one tap, and the tap undone', async ({ page }) => {
  await press(page, 'Open the demo')
  await expect(page.getByRole('heading', { name: /Heron meadow/ })).toBeVisible()
  await goTo(page, '#book')
  await expect(page.getByText('Demo: invented, nothing here was measured.')).toBeVisible()
  await press(page, 'Remove the demo station')
  await expect(page.getByText('The book is empty.')).toBeVisible()
  await press(page, /^Undo: delete/)
  await expect(page.getByText(/27\ssightings/)).toBeVisible()
  await press(page, /^Redo: delete/)
  await expect(page.getByText('The book is empty.')).toBeVisible()
  await press(page, /^Undo: delete/)
  await expect(page.getByText(/27\ssightings/)).toBeVisible()
  await expect(page.getByRole('button', { name: 'Undo: open the demo station' })).toBeVisible()
  // What was done to the book is not undone from a screen that shows the dish, the mount or the sightings.
  for (const hash of ['#book/dish', '#mount', '#sight/list', '#sight/noise']) {
    await goTo(page, hash)
    await expect(page.locator('h1')).not.toHaveText('Book')
    await expect(page.getByRole('button', { name: /^(Undo|Redo)/ })).toHaveCount(0)
  }
})

/** The station and each entry of its lists of records. */
const RECORDS =
  1 +
  ['changes', 'references', 'sightings', 'levels', 'scans', 'noise', 'clockChecks', 'instruments', 'checks']
    .map(list => smallBook().stations[0][list]?.length ?? 0)
    .reduce((a, b) => a + b)

test('a file comes in whatever its ending, twice doubles nothing, and undo takes it out; a broken one is refused whole', async ({
  page,
}) => {
  const file = { name: 'from-a-friend.xyz', mimeType: '', buffer: Buffer.from(small()) }
  await goTo(page, '#book/import')
  expect(await page.locator('input[type=file]').getAttribute('accept')).toBeNull()
  await page.getByLabel('Choose a file').setInputFiles(file)
  await expect(inputsOf(page, 'New here')).toHaveText(String(RECORDS))
  // Only shown so far.
  await page.reload()
  await goTo(page, '#book')
  await expect(page.getByText('The book is empty.')).toBeVisible()
  await goTo(page, '#book/import')
  await page.getByLabel('Choose a file').setInputFiles(file)
  await press(page, new RegExp(`^Import ${RECORDS}\\srecords$`))
  await expect(page.getByText(new RegExp(`${RECORDS}\\srecords imported`))).toBeVisible()
  await goTo(page, '#book')
  await goTo(page, '#book/import')
  await page.getByLabel('Choose a file').setInputFiles(file)
  await expect(page.getByText('Everything in it is here already.')).toBeVisible()
  await expect(inputsOf(page, 'The same as here')).toHaveText(String(RECORDS))
  await goTo(page, '#book')
  await press(page, /^Undo: import/)
  await expect(page.getByText('The book is empty.')).toBeVisible()
  await goTo(page, '#book/import')
  await page
    .getByLabel('Choose a file')
    .setInputFiles({ name: 'a.json', mimeType: 'application/json', buffer: Buffer.from([0xff, 0xfe, 0x00]) })
  await expect(page.getByText(/could not be read, or it is not text in UTF-8/)).toBeVisible()

  // A broken book is refused whole: every fault with its place, nothing stored.
  const broken = small(book => {
    book.stations[0].site.latDeg = 95
    book.stations[0].sightings[0].utc = 'yesterday'
  })
  await lookAt(page, broken)
  await expect(page.getByText('Invalid field book: 2\u00a0faults. Nothing was imported.')).toBeVisible()
  await expect(
    page.getByText(/stations\[0\]\.site\.latDeg: latDeg must be a number from -90 to 90, got 95/),
  ).toBeVisible()
  await expect(page.getByText(/stations\[0\]\.sightings\[0\]\.utc: utc must be a real time/)).toBeVisible()
  for (const [text, words] of [
    ['{"format": "moonplumb-fieldbook", ', /line 1|ends/i],
    ['{"format": "moonplumb-fieldbook", "version": 2}', /this field book is version 2/],
    ['hello', /./],
  ] as const) {
    await lookAt(page, text)
    await expect(page.getByText(/Nothing was imported/)).toBeVisible()
    await expect(page.locator('.book-list')).toContainText(words)
  }
  await goTo(page, '#book')
  await expect(page.getByText('The book is empty.')).toBeVisible()
})

test('what differs in both places is shown side by side, and the choice is the person’s', async ({ page }) => {
  await lookAt(page, small())
  await press(page, /^Import/)
  const other = small(book => {
    book.stations[0].name = 'Quarry edge'
    book.stations[0].sightings[0].lower = 99
    book.stations[0].sightings[1].note = 'theirs'
  })
  await lookAt(page, other)
  await expect(inputsOf(page, 'Changed differently in both places')).toHaveText('3')
  await expect(page.getByText(/3\schoices still open/)).toBeVisible()
  const station = page.getByRole('group', { name: /^Station .*: name$/ })
  await expect(station.getByRole('radio', { name: /Quarry rim/ })).toBeVisible()
  await expect(station.getByRole('radio', { name: /Quarry edge/ })).toBeVisible()
  await press(page, 'Keep all that is here')
  await page
    .getByRole('group', { name: /Sighting of the Moon, 27.*: tilt$/ })
    .getByRole('radio', { name: /^What is imported/ })
    .check()
  await press(page, /^Import 3\srecords$/)
  await expect(page.getByText(/3\srecords imported/)).toBeVisible()
  const book = JSON.parse(await handedOut(page)) as ReturnType<typeof smallBook>
  expect(book.stations[0].name).toBe('Quarry rim')
  expect(book.stations[0].sightings[0].lower).toBe(99)
  expect(book.stations[0].sightings[1].note).not.toBe('theirs')
  expect(book.stations[0].sightings).toHaveLength(smallBook().stations[0].sightings.length)
})

test('the book is saved as .txt, counts as a backup once it is confirmed, and makes the same book on an empty phone', async ({
  page,
  browser,
  baseURL,
}) => {
  await make(page, { ...KINDS[2]!, name: 'Ridge <b>' })
  await expect(page.getByText(/No backup of this station yet: 1\srecord is only on this phone/)).toBeVisible()
  await press(page, 'Export, back up')
  const waiting = page.waitForEvent('download')
  await press(page, 'Save as a file')
  const download = await waiting
  expect(download.suggestedFilename()).toMatch(/^ridge-b-\d{4}-\d\d-\d\d\.fieldbook\.txt$/)
  const text = readFileSync((await download.path())!, 'utf8')
  // Started is not arrived: the reminder stays, also over a reload, until the file is seen or compared.
  await expect(page.getByText('Is the backup there?')).toBeVisible()
  await page.reload()
  await goTo(page, '#book')
  await expect(page.getByText('No backup of this station yet')).toBeVisible()
  const compare = (content: string) =>
    page.getByLabel('Compare the file').setInputFiles({ name: 'a.txt', mimeType: '', buffer: Buffer.from(content) })
  await compare(text.slice(0, -5))
  await expect(page.getByText(/This is not the file that was exported last/)).toBeVisible()
  await compare(text)
  await expect(page.getByText('No backup of this station yet')).toBeHidden()
  await expect(page.getByText('Is the backup there?')).toBeHidden()

  const empty = await browser.newContext(HANDSET)
  const other = await empty.newPage()
  await other.goto(baseURL!)
  await lookAt(other, text)
  await press(other, /^Import 1\srecord$/)
  expect(bare(await handedOut(other))).toEqual(bare(text))
  await empty.close()
})

test('the share sheet gets a .txt file inside the tap, and a refusal leaves other ways; the target table is a CSV', async ({
  page,
}) => {
  await page.addInitScript(() => {
    const shared: string[] = []
    Object.assign(window, { shared })
    Object.assign(navigator, {
      canShare: () => true,
      share: async ({ files }: { files: File[] }) => {
        if (!navigator.userActivation.isActive) throw new Error('not in a tap')
        shared.push(`${files[0]!.name} ${files[0]!.type}`)
        if (shared.length > 1) throw new DOMException('', 'NotAllowedError')
      },
    })
  })
  await page.reload()
  await lookAt(page, small())
  await press(page, /^Import/)
  await goTo(page, '#book/export')
  await press(page, 'Share')
  await expect(page.getByText(/Shared/)).toBeVisible()
  const shared = await page.evaluate(() => (window as unknown as { shared: string[] }).shared)
  expect(shared).toEqual([expect.stringMatching(/^quarry-rim-.*\.fieldbook\.txt text\/plain$/)])
  await press(page, 'Share')
  await expect(page.getByText(/The phone refused/)).toBeVisible()
  await expect(page.getByRole('button', { name: 'Copy the text' })).toBeVisible()

  // The target table is a CSV of as many rows as asked for.
  await pick(page, /^The target table/)
  await box(page, 'From').fill('2026-06-01 00:00:00')
  await box(page, 'For how many hours').fill('2')
  await box(page, 'One row every').fill('30')
  await expect(page.getByText(/4\srows/)).toBeVisible()
  const waiting = page.waitForEvent('download')
  await press(page, 'Save as a file')
  const download = await waiting
  expect(download.suggestedFilename()).toBe('quarry-rim-2026-06-01.targets.csv')
  const lines = readFileSync((await download.path())!, 'utf8').split('\r\n')
  expect(lines[0]).toBe('utc,target,azDeg,elDeg,lower,upper,reachable')
  expect(lines.slice(1).map(line => line.split(',')[0])).toEqual([
    '2026-06-01T00:00:00Z',
    '2026-06-01T00:30:00Z',
    '2026-06-01T01:00:00Z',
    '2026-06-01T01:30:00Z',
    '',
  ])
  await box(page, 'For how many hours').fill('8000')
  await box(page, 'One row every').fill('1')
  await expect(page.getByText(/That would be 480\s000 rows/)).toBeVisible()
})

test.describe('kept whole by the service worker', () => {
  test.use({ serviceWorkers: 'allow' })

  test('Ready for the field proves what is there and says what to do about the rest', async ({ page }) => {
    await goTo(page, '#book/ready')
    await expect(page.getByText(/Complete on this phone: all \d+ parts/)).toBeVisible({ timeout: 20_000 })
    await expect(page.getByText(/It runs in a tab of the browser\. Export a backup, then install it/)).toBeVisible()
    await expect(page.getByText(/Not compared yet/)).toBeVisible()
    await expect(page.getByText(/\d+ lines? to look at|\d+\slines to look at/)).toBeVisible()
    // A part goes missing: the line turns.
    await page.evaluate(async () => {
      const cache = await caches.open((await caches.keys()).find(name => name.startsWith('moonplumb-'))!)
      await cache.delete('manifest.webmanifest')
    })
    expect((await askOffline(page)).missing).toEqual(['manifest.webmanifest'])
    // With a network it would be fetched at once.
    await page.context().setOffline(true)
    await press(page, 'Look again')
    await expect(page.getByText(/1\spart missing\. Stay online/)).toBeVisible()
    await page.context().setOffline(false)
    await expect(page.getByText(/Complete on this phone: all \d+ parts/)).toBeVisible()
    expect((await askOffline(page)).missing).toEqual([])
  })

  test('a new version waits until the person asks for it under Ready, then takes over whole', async ({
    page,
    context,
    watch,
  }, info) => {
    const folder = info.outputPath('site')
    cpSync(DIST, folder, { recursive: true })
    const server = await serve(folder)
    /** The service worker's own; the second copy of the book lies in the same place. */
    const ownCaches = () =>
      page.evaluate(async () => (await caches.keys()).filter(name => name.startsWith('moonplumb-')))
    try {
      await page.goto(`${server.url}#book/ready`)
      await untilOffline(page)
      const before = await ownCaches()
      await expect(page.getByText('A new version is ready')).toBeHidden()
      // The new page says something else, so its place in the service worker's list changes.
      const html = join(folder, 'index.html')
      writeFileSync(html, readFileSync(html, 'utf8').replace('<title>Moonplumb</title>', '<title>Newer</title>'))
      const sw = join(folder, 'sw.js')
      const text = readFileSync(sw, 'utf8')
      relist(folder)
      expect(readFileSync(sw, 'utf8')).not.toBe(text)
      await page.evaluate(async () => (await navigator.serviceWorker.ready).update())
      await expect(page.getByText('A new version is ready')).toBeVisible()
      // Until then it is the old one, and both are there whole.
      expect(await page.title()).toBe('Moonplumb')
      expect(await ownCaches()).toHaveLength(2)
      await press(page, 'Change to the new version')
      await expect(page).toHaveTitle('Newer')
      await expect(page.getByText('A new version is ready')).toBeHidden()
      // The one before is kept until the new one has drawn its first screen.
      await expect.poll(ownCaches).toHaveLength(1)
      expect(await ownCaches()).not.toEqual(before)
      expect((await askOffline(page)).missing).toEqual([])
      await server.stop()
      await context.setOffline(true)
      watch.expected.push(/ERR_INTERNET_DISCONNECTED|ERR_CONNECTION_REFUSED/)
      await page.reload()
      expect(await page.title()).toBe('Newer')
    } finally {
      await server.stop().catch(() => {})
    }
  })
})

test('settings are remembered: night is red on black', async ({ page }) => {
  await goTo(page, '#book/settings')
  await pick(page, /^Night/)
  await pick(page, 'Inches')
  await page.reload()
  await expect(page.getByRole('radio', { name: /^Night/ })).toBeChecked()
  await expect(page.getByRole('radio', { name: 'Inches' })).toBeChecked()
  expect(await page.evaluate(() => document.documentElement.dataset.theme)).toBe('night')
})

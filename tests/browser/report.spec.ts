/** The field report on paper: one page, A4 and Letter, with a book that has much in it; and what of it is on that page. */
import type { StationRecord } from '../../src/core/records/fieldbook.ts'
import { stationWith } from '../helpers/many.ts'
import { bookOf } from '../helpers/simulate.ts'
import { tooWide } from './looks.ts'
import { expect, isWhole, type Page, test } from './rig.ts'
import { openBook, show } from './routes.ts'
import { goTo, openDemo, press } from './walk.ts'

/** What lies within the margins of the style sheet, in CSS pixels: 10 mm all round. */
const MM = 96 / 25.4
const PAPERS = [
  { format: 'A4', width: 190 * MM, height: 277 * MM },
  { format: 'Letter', width: (215.9 - 20) * MM, height: (279.4 - 20) * MM },
] as const

/** How many pages a PDF has: each is an object of this type, and Chromium leaves those unpacked. */
const pagesOf = (pdf: Buffer): number => pdf.toString('latin1').match(/\/Type\s*\/Page\b/g)?.length ?? 0

/** What of the report is not wholly on its page, or cut off in its own box. */
const offThePage = (page: Page, most: number): Promise<string[]> =>
  page.evaluate(height => {
    const box = document.querySelector('.report')!.getBoundingClientRect()
    const off: string[] = []
    // 3 px: a line of letters is a little higher than the line that it stands on.
    if (box.height > height) off.push(`the report is ${box.height} px high`)
    for (const e of document.querySelectorAll<HTMLElement>('.report *')) {
      if (getComputedStyle(e).display === 'none' || e.closest('.mark')) continue
      const r = e.getBoundingClientRect()
      if (r.width === 0 && r.height === 0) continue
      if (r.left < box.left - 3 || r.right > box.right + 3 || r.top < box.top - 3 || r.bottom > box.bottom + 3)
        off.push(`${e.tagName}.${e.getAttribute('class')} ${(e.textContent ?? '').slice(0, 40)}`)
      if (
        !(e instanceof SVGElement) &&
        e.scrollHeight > e.clientHeight + 2 &&
        e.clientHeight > 0 &&
        getComputedStyle(e).overflow !== 'visible'
      )
        off.push(`cut: ${e.tagName}.${e.className}`)
    }
    return off
  }, most)

/** Other elements that would be printed beside the report. */
const besides = (page: Page): Promise<string[]> =>
  page.evaluate(() =>
    [...document.querySelectorAll<HTMLElement>('#app *')]
      .filter(
        e =>
          !e.closest('.report') &&
          !e.querySelector('.report') &&
          e.checkVisibility() &&
          e.getBoundingClientRect().height > 0,
      )
      .map(e => `${e.tagName}.${e.className}`),
  )

async function printed(page: Page): Promise<string> {
  const screen = page.viewportSize()!
  await page.emulateMedia({ media: 'print' })
  let text = ''
  for (const { format, width, height } of PAPERS) {
    await page.setViewportSize({ width: Math.floor(width), height: Math.floor(height) })
    expect(await offThePage(page, height), format).toEqual([])
    expect(await besides(page), format).toEqual([])
    text = (await page.locator('.report').textContent()) ?? ''
    expect(pagesOf(await page.pdf({ format })), format).toBe(1)
  }
  await page.emulateMedia({ media: null })
  await page.setViewportSize(screen)
  return text
}

/** A station as full as one may be: 300 sightings, two jacks, two feeds, names as long as they may be. */
function fullStation(): StationRecord {
  const station = stationWith(300, 20)
  const name = `Ridge test dish ${'on the long hill above the second gate '.repeat(20)}`.slice(0, 499)
  const sides = ['+', '-'] as const
  return {
    ...station,
    name,
    feeds: [
      { ...station.feeds[0]!, name: `23 cm ring feed ${'with the long choke '.repeat(40)}`.slice(0, 499) },
      { id: 'second', name: 'Horn', frequencyMHz: 5760 },
    ],
    sightings: station.sightings.map((s, k) => ({
      ...s,
      ...(s.method !== 'optical' && { feed: station.feeds[0]!.id }),
      arrivedFrom: { lower: sides[k % 2]!, upper: sides[(k >> 1) % 2]! },
    })),
    changes: ['2026-04-02', '2026-04-08', '2026-04-12', '2026-04-15'].map((day, k) => ({
      id: `change-${k}`,
      utc: `${day}T10:00:00Z`,
      what: ['lower-axis', 'upper-zero', 'tube', 'dish'],
      note: 'After the storm of the night, everything was loosened and clamped again.',
    })),
    references: [1, 2, 3].map(k => ({
      id: `mark-${k}`,
      utc: `2026-04-0${k}T08:00:00Z`,
      axis: 'upper' as const,
      mark: 'inner stop',
      reading: station.mount.upper.minReading + 5 * k,
    })),
  }
}

// By night the letters are largest, and the screen is farthest from paper; `npm run face` prints by day too.
for (const theme of isWhole ? (['daylight', 'night'] as const) : (['night'] as const))
  test(`a station with 300 sightings and the longest names prints to one page, ${theme}`, async ({ page }) => {
    test.setTimeout(240_000)
    const station = fullStation()
    await openBook(page, theme, { book: bookOf(station) })
    await show(page, 'correct/report')
    await expect(page.getByRole('heading', { name: /^Field report: / })).toBeVisible({ timeout: 60_000 })
    // Marks are drawn some at a time.
    await expect(page.locator('.report .mark')).toHaveCount(station.sightings.length, { timeout: 60_000 })
    expect(await tooWide(page)).toEqual([])
    const text = await printed(page)
    expect(text).toContain(station.name)
    expect(text).toContain(station.feeds[0]!.name.replace('23 cm', '23\u00a0cm'))
    for (const part of [
      'What remains',
      'with 90\u00a0% confidence',
      'Worst',
      'Still suspected',
      'Measured, ',
      'Strongest signal',
      'The mount as built, against what was entered',
      'known well enough',
      'Misses of the sightings',
      'Loss over the Moon’s sky, dB',
      'Changes',
      '1 more in the app.',
      'A dish pointed at the Sun burns',
      'Moonplumb 0.1.0',
    ])
      expect(text).toContain(part)
    // Black on white, whatever the screen was.
    await page.emulateMedia({ media: 'print' })
    const inks = await page.evaluate(() => {
      const style = getComputedStyle(document.querySelector('.report')!)
      return [style.color, getComputedStyle(document.body).backgroundColor]
    })
    expect(inks).toEqual(['rgb(0, 0, 0)', 'rgb(255, 255, 255)'])
    await page.emulateMedia({ media: null })
  })

test('Print opens the dialog; the text goes out by every way, as codes too', async ({ page }) => {
  await openBook(page, 'daylight')
  await page.evaluate(() => {
    globalThis.print = () => document.body.setAttribute('data-printed', 'yes')
  })
  await show(page, 'correct/report')
  await expect(page.getByRole('heading', { name: /^Field report: / })).toBeVisible()
  await press(page, 'Print')
  await expect(page.locator('body')).toHaveAttribute('data-printed', 'yes')
  await expect(page.getByText(/“Save as PDF” makes a file/)).toBeVisible()
  await page.getByText('The text itself').click()
  await expect(page.getByRole('textbox', { name: 'The text itself' })).toHaveValue(
    /^MOONPLUMB FIELD REPORT\nStation: {2}"/,
  )
  await expect(page.getByRole('button', { name: 'Save as a file' })).toBeVisible()
  await press(page, 'Show as codes')
  await expect(page.locator('svg.code')).toBeVisible()

  // Pages are counted: twice the height would be two pages.
  await show(page, 'correct/report')
  await expect(page.getByRole('heading', { name: /^Field report: / })).toBeVisible()
  expect(pagesOf(await page.pdf({ format: 'A4' }))).toBe(1)
  await page.locator('.report').evaluate(e => {
    ;(e as HTMLElement).style.height = '520mm'
  })
  expect(pagesOf(await page.pdf({ format: 'A4' }))).toBeGreaterThan(1)
})

test('with nothing recorded the page says what is known and dresses nothing up', async ({ page }) => {
  const station = { ...stationWith(0, 0), name: 'Bare post' }
  await openDemo(page, { book: bookOf(station), time: '2026-11-25T13:00:00Z', clock: 'fixed' })
  await goTo(page, '#correct/report')
  await expect(page.getByRole('heading', { name: /^Field report: / })).toBeVisible()
  const text = await printed(page)
  expect(text).toContain('No sighting counts yet: the mount is known only as entered.')
  expect(text).toContain('Nothing yet.')
  expect(text).not.toContain('known well enough')
  expect(text).not.toContain('with 90\u00a0% confidence')
})

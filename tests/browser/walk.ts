/** What every walk does: the demo button with a book of the walk's own behind it, press, write, go to a screen. */
import { readFileSync } from 'node:fs'
import type { BrowserContext, Locator } from '@playwright/test'
import { expect, type Page, untilOffline, type Watch } from './rig.ts'

export interface Opening {
  /** In place of the walks' own small meadow, whose clock is the page's. */
  book?: unknown
  /** The hour that the page's clock shows; the real one where none is given. */
  time?: string | number
  /** 'fixed': time stands still, so a slow machine stamps the same times; 'runs' (default): from `time` on. */
  clock?: 'fixed' | 'runs'
  /** The place whose own button opens it, and which is then shown. Default: Book, which alone asks nothing of the solution. */
  at?: '#now' | '#book' | '#correct' | '#when' | '#align'
}

/** A demo that the walks know by heart: a small book without an hour of its own. */
const MEADOW: unknown = JSON.parse(readFileSync(new URL('./fixtures/meadow.fieldbook.json', import.meta.url), 'utf8'))

/** On an empty phone, to the book of the demo button. */
export async function openDemo(
  page: Page,
  { book = MEADOW, time, clock = 'runs', at = '#book' }: Opening = {},
): Promise<void> {
  if (time !== undefined && clock === 'fixed') await page.clock.setFixedTime(new Date(time))
  else if (time !== undefined) await page.clock.install({ time: new Date(time) })
  await page.route('**/demo.fieldbook.json', route => route.fulfill({ json: book }))
  await page.goto(`./${at}`)
  const button = page.getByRole('button', { name: 'Open the demo', exact: true })
  await button.click()
  await expect(button).toHaveCount(0)
}

/** To an address inside the app, without loading it again. */
export const goTo = (page: Page, hash: string): Promise<void> =>
  page.evaluate(to => {
    location.hash = to
  }, hash)

/** To a screen, until its heading stands. */
export async function openScreen(page: Page, place: string, title: string): Promise<void> {
  await goTo(page, place)
  await expect(page.getByRole('heading', { level: 1, name: title })).toBeVisible()
}

/** A name as text is the whole name. */
export const press = (page: Page, name: string | RegExp): Promise<void> =>
  page.getByRole('button', { name, exact: typeof name === 'string' }).click()

/** A field of text by its name. */
export const box = (page: Page, name: string | RegExp): Locator =>
  page.getByRole('textbox', { name, exact: typeof name === 'string' })

export const write = (page: Page, name: string, text: string): Promise<void> => box(page, name).fill(text)

/** From the form of a sighting to its methods, and back. @param was  what the row says so far */
export async function pickMethod(
  page: Page,
  method: string,
  was: RegExp = /^Method/,
  sigmaDeg?: number,
): Promise<void> {
  await press(page, was)
  await page.getByRole('radio', { name: method }).check()
  if (sigmaDeg !== undefined) await write(page, 'Uncertainty, ±', String(sigmaDeg))
  await press(page, 'Back to the readings')
}

/** To the import, and to what a pasted text would do. */
export async function lookAt(page: Page, text: string): Promise<void> {
  await goTo(page, '#book')
  await goTo(page, '#book/import')
  await write(page, 'Or paste its text', text)
  await press(page, 'See what is in it')
}

/** The text that would go out. @param what  the choice of what goes; the field book unless another is named */
export async function handedOut(page: Page, what?: RegExp): Promise<string> {
  await goTo(page, '#book')
  await goTo(page, '#book/export')
  if (what) await page.getByRole('radio', { name: what }).check()
  await page.getByText('The text itself').click()
  const text = box(page, 'The text itself')
  await expect(text).not.toHaveValue('')
  return text.inputValue()
}

/** A phone with the network off whose book is one that was imported. @param time  the page's clock runs from there */
export async function offlineWith(
  { page, context, watch }: { page: Page; context: BrowserContext; watch: Watch },
  book: unknown,
  time: string,
): Promise<void> {
  await page.clock.install({ time })
  await page.goto('./')
  await untilOffline(page)
  await context.setOffline(true)
  watch.expected.push(/ERR_INTERNET_DISCONNECTED/)
  await lookAt(page, JSON.stringify(book))
  await press(page, /^Import/)
}

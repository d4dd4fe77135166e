/** The face for the field: the live screens fit a small phone, and a sighting is stamped from the keyboard alone. */
import { readdirSync, readFileSync } from 'node:fs'
import { expect, test } from './rig.ts'
import { LIVE, openBook, ROUTES, show } from './routes.ts'

test.slow()

test('every screen is in the table of addresses', () => {
  const folder = new URL('../../src/ui/places/', import.meta.url)
  const missing: string[] = []
  for (const file of readdirSync(folder).filter(name => /^[A-Z][a-z]+Place\.tsx$/.test(name))) {
    const place = file.replace('Place.tsx', '').toLowerCase()
    const text = readFileSync(new URL(file, folder), 'utf8')
    for (const [, word] of text.matchAll(/^ {4}case '([^']+)':/gm))
      if (!ROUTES.some(route => `${route}/`.startsWith(`${place}/${word}/`))) missing.push(`${place}/${word}`)
  }
  expect(missing).toEqual([])
})

// By night the letters are largest.
test('the live screens show everything that matters on 360 × 640 without scrolling, by night too', async ({ page }) => {
  await page.setViewportSize({ width: 360, height: 640 })
  await openBook(page, 'daylight')
  for (const theme of ['daylight', 'night']) {
    await page.evaluate(t => {
      document.documentElement.dataset.theme = t
    }, theme)
    for (const address of LIVE) {
      await show(page, address)
      const hidden = await page.evaluate(() => {
        const part = document.querySelector('.screen-body')!
        return {
          body: part.scrollHeight - part.clientHeight,
          page: document.documentElement.scrollHeight - innerHeight,
        }
      })
      expect([theme, address, hidden.body <= 0, hidden.page <= 0]).toEqual([theme, address, true, true])
    }
    await show(page, 'now')
    await expect(page.getByText('Worth doing next')).toBeInViewport({ ratio: 1 })
    await expect(page.locator('.body-row')).toHaveCount(2)
    const bar = await page.getByRole('navigation').boundingBox()
    const action = await page.getByRole('button', { name: 'Record a sighting' }).boundingBox()
    expect(action!.y + action!.height).toBeLessThanOrEqual(bar!.y + 1)
  }
})

test('from the first screen to a stamped sighting with Tab and Enter alone', async ({ page }) => {
  await openBook(page, 'dusk')
  await page.evaluate(() => (document.activeElement as HTMLElement | null)?.blur())
  /** Tabs until the focus is on the button of this name, and presses it. */
  const pressByKeys = async (name: string) => {
    for (let k = 0; k < 40; k++) {
      await page.keyboard.press('Tab')
      const text = await page.evaluate(() => document.activeElement?.textContent?.trim())
      if (text === name) return page.keyboard.press('Enter')
    }
    throw new Error(`"${name}" is not reached in 40 steps`)
  }
  await pressByKeys('Record a sighting')
  await expect(page).toHaveURL(/#sight$/)
  await pressByKeys('On it: stamp the time')
  await expect(page).toHaveURL(/#sight\/half\//)
  await expect(page.getByText('The time is kept in the book.')).toBeVisible()
})

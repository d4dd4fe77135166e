/** The face for the field: the live screens fit a small phone, and a sighting is stamped from the keyboard alone. */
import { readdirSync, readFileSync } from 'node:fs'
import { tooWide } from './looks.ts'
import { expect, isWhole, test, unhurried, withoutPage } from './rig.ts'
import { faceBook, LIVE, openBook, ROUTES, show } from './routes.ts'

test.slow()

withoutPage('every screen is in the table of addresses', () => {
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
test('the live screens show everything that matters on 360 × 640 without scrolling, by night too; so does Now on 390 × 844; on a desk Now has no empty lower left', async ({
  page,
}) => {
  await page.setViewportSize({ width: 360, height: 640 })
  await openBook(page, 'daylight')
  for (const theme of ['daylight', 'night']) {
    await page.evaluate(t => {
      document.documentElement.dataset.theme = t
    }, theme)
    for (const address of LIVE) {
      await page.setViewportSize({ width: 360, height: 640 })
      await show(page, address)
      const hidden = await page.evaluate(() => {
        const part = document.querySelector('.screen-body')!
        // Under Sight, what is there already lies below what is read; it may be scrolled to.
        const read = part.querySelector('.sight-live')
        return {
          body: read
            ? read.getBoundingClientRect().bottom - part.getBoundingClientRect().bottom
            : part.scrollHeight - part.clientHeight,
          page: document.documentElement.scrollHeight - innerHeight,
        }
      })
      expect([theme, address, hidden.body <= 0, hidden.page <= 0]).toEqual([theme, address, true, true])
    }
    await show(page, 'now')
    await expect(page.locator('.body-row')).toHaveCount(2)
    for (const [width, height] of [
      [360, 640],
      [390, 844],
    ] as const) {
      await page.setViewportSize({ width, height })
      const [next, action, bar] = await page.evaluate(() =>
        ['.worth', '.action', '.places'].map(part => document.querySelector(part)!.getBoundingClientRect().toJSON()),
      )
      expect(next.bottom, `${theme}, ${height} high`).toBeLessThanOrEqual(action.top)
      expect(action.bottom).toBeLessThanOrEqual(bar.top + 1)
    }
  }

  // On a desk Now says under its number what that is based on, and has no empty lower left.
  await page.evaluate(() => {
    document.documentElement.dataset.theme = 'daylight'
  })
  await page.setViewportSize({ width: 1280, height: 800 })
  await expect(page.getByRole('heading', { name: 'What this is based on' })).toBeVisible()
  await expect(page.getByText('What this is based on', { exact: true })).toHaveCount(2)
  await expect(page.locator('.now-narrow details')).toBeHidden()
  const left = await page.evaluate(() => {
    const body = document.querySelector('.screen-body')!.getBoundingClientRect()
    const last = document.querySelector('.screen-main .now-facts')!.getBoundingClientRect()
    return { filled: (Math.min(last.bottom, body.bottom) - body.top) / body.height }
  })
  expect(left.filled).toBeGreaterThan(0.8)
  await page.setViewportSize({ width: 390, height: 844 })
  await expect(page.locator('.now-narrow details')).toBeVisible()
  await expect(page.getByRole('heading', { name: 'What this is based on' })).toBeHidden()
})

test('on a desk the five places stand at the same spot of every screen, and every screen below the first of its place leads back', async ({
  page,
}) => {
  await page.setViewportSize({ width: 1280, height: 800 })
  await openBook(page, 'daylight')
  const spots = new Map<string, string[]>()
  const without: string[] = []
  for (const address of isWhole ? ROUTES : ROUTES.filter((_, k) => k % 12 === 0)) {
    await show(page, address)
    const back = page.locator('.screen-header').getByRole('button', { name: 'Back' })
    // What stands under Now has an address of one part too.
    const isBelow = address.includes('/') || ['when', 'reach', 'align'].includes(address)
    // Its code may still be on the way.
    if (isBelow) await back.waitFor({ timeout: 5000 }).catch(() => {})
    if ((await back.count()) !== (isBelow ? 1 : 0)) without.push(address)
    const spot = await page.evaluate(() =>
      [...document.querySelectorAll('.places a')]
        .map(place => place.getBoundingClientRect())
        .map(({ x, y, width, height }) => [x, y, width, height].map(Math.round).join(' '))
        .join(', '),
    )
    spots.set(spot, [...(spots.get(spot) ?? []), address])
  }
  expect([...spots.keys()], JSON.stringify([...spots])).toHaveLength(1)
  expect(without).toEqual([])
  await show(page, 'sight')
  await show(page, 'sight/list')
  await page.getByRole('button', { name: /10:55/ }).click()
  await page.getByRole('button', { name: 'Back', exact: true }).click()
  await expect(page).toHaveURL(/#sight\/list$/)
})

test('from the first screen to a stamped sighting with Tab and Enter alone', async ({ page }) => {
  await openBook(page, 'dusk', { at: '#now' })
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
  await pressByKeys('On target: mark time')
  await expect(page).toHaveURL(/#sight\/half\//)
  await expect(page.getByText('Read both axes. The time is kept.')).toBeVisible()
})

/** Screens with a number of the first size, keys, a ledger, or rows whose value is long. */
const LETTERED = [
  'now',
  'reach',
  'sight',
  'sight/stow',
  'sight/half/half-1',
  'sight/list',
  'sight/noon',
  'book/new/over',
]

test('with text at 200 % no number, key or word of a row is broken in two or cut, nor any part of the ledger at 100 %', async ({
  page,
}) => {
  const book = faceBook()
  const [station] = book.stations
  // The longest names of targets, and readings with all their digits.
  const named = { ...station.sightings[0], sigmaDeg: 20, use: 'never', lower: 71.25 }
  station.sightings.push(
    { ...named, id: 'long-1', target: { type: 'source', name: 'Sagittarius A*' } },
    { ...named, id: 'long-2', target: { type: 'source', name: 'Cassiopeia A' } },
    { ...named, id: 'long-3', target: { type: 'geostationary', lonDeg: -179.95 } },
  )
  await openBook(page, 'daylight', book)
  const broken: string[] = []
  for (const [textPx, width] of [
    [16, 360],
    [32, 390],
    [32, 360],
  ] as const) {
    await page.setViewportSize({ width, height: 844 })
    await page.evaluate(px => {
      document.documentElement.style.fontSize = px === 16 ? '' : `${px}px`
    }, textPx)
    for (const address of LETTERED) {
      await show(page, address)
      const found = await page.evaluate(() => {
        const parts: string[] = []
        const looked =
          '.big-value, .pad-step, .ledger-heads span, .sight-row > :is(span, strong), .over-row > span, .row-button > span:first-child'
        for (const part of document.querySelectorAll(looked)) {
          const walker = document.createTreeWalker(part, NodeFilter.SHOW_TEXT)
          while (walker.nextNode()) {
            const node = walker.currentNode as Text
            // Word by word: the letters of one stand on one line.
            for (const word of node.data.matchAll(/[^\s\u00a0]+/g)) {
              const range = document.createRange()
              range.setStart(node, word.index)
              range.setEnd(node, word.index + word[0].length)
              const lines = new Set([...range.getClientRects()].filter(r => r.width > 0).map(r => Math.round(r.top)))
              if (lines.size > 1) parts.push(word[0])
            }
          }
        }
        return parts
      })
      for (const what of await tooWide(page)) broken.push(`${address} at ${width}, text ${textPx} px, cut: ${what}`)
      for (const word of found) broken.push(`${address} at ${width}, text ${textPx} px: ${word}`)
    }
  }
  expect(broken).toEqual([])
})

// Some forty presses, each measured.
unhurried(
  'no key of the keypad moves when one is pressed: with text at 200 %, in a small window, with readings too long or out of range',
  async ({ page }) => {
    await openBook(page, 'daylight')
    const moved: string[] = []
    for (const [textPx, width, height] of [
      [16, 360, 640],
      [32, 390, 844],
      [16, 390, 844],
    ] as const) {
      await page.setViewportSize({ width, height })
      await page.evaluate(px => {
        document.documentElement.style.fontSize = px === 16 ? '' : `${px}px`
      }, textPx)
      for (const address of ['sight/half/half-1', 'sight/half/half-2', 'sight/edit/demo-sighting-7']) {
        await show(page, 'sight') // the form is opened again, with what is kept
        await show(page, address)
        const keys = page.locator('.pad-keys')
        const key = (name: string) => keys.getByRole('button', { name, exact: true })
        await keys.evaluate(e => e.scrollIntoView({ block: 'center' }))
        // As in Safari, where what grows above the keys is not made up for.
        if (width === 360)
          await page.locator('.screen-body').evaluate(e => {
            e.style.overflowAnchor = 'none'
          })
        const top = () => keys.evaluate(e => Math.round(e.getBoundingClientRect().top))
        const stood = await top()
        for (const name of [...'123', 'to swing', ...'9876543', 'erase', 'erase']) {
          // As a finger does it: what Playwright would scroll to is in sight already.
          const { x, y, width: w, height: h } = (await key(name).boundingBox())!
          await page.touchscreen.tap(x + w / 2, y + h / 2)
          await page.evaluate(() => new Promise(resolve => requestAnimationFrame(() => setTimeout(resolve, 0))))
          const now = await top()
          if (now !== stood)
            moved.push(`${address} at ${width}, text ${textPx} px: ${name} moved the keys by ${now - stood} px`)
        }
        await expect(page.locator('.pad-chosen input')).not.toHaveValue('')
        if (address.startsWith('sight/edit')) await expect(page.locator('.pad-wrong')).not.toHaveCount(0)
      }
    }
    expect(moved).toEqual([])
  },
)

/** The first screen: how much JavaScript it waits for, and that nothing on it is empty while the rest is on its way. */
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { gzipSync } from 'node:zlib'
import { DIST } from './build.mjs'
import { expect, unhurried, withoutPage } from './rig.ts'
import { openBook } from './routes.ts'

/** Bytes, gzipped. It was 40.6 kB while the words for a solution came with it. */
const MOST_GZIPPED = 39_000

withoutPage('the first screen waits for less than 39 kB of JavaScript', () => {
  const waitedFor = new Set<string>()
  const take = (file: string) => {
    if (waitedFor.has(file)) return
    waitedFor.add(file)
    const code = readFileSync(join(DIST, 'assets', file), 'utf8')
    for (const [, other] of code.matchAll(/(?:import|from)\s*["']\.\/([^"']+\.js)["']/g)) take(other!)
  }
  const [, entry] = readFileSync(join(DIST, 'index.html'), 'utf8').match(/<script type="module"[^>]*assets\/([^"]+)"/)!
  take(entry!)
  // The entry, the first file, and what they share with the rest.
  expect(waitedFor.size).toBeGreaterThan(1)
  const weight = [...waitedFor].reduce(
    (sum, file) => sum + gzipSync(readFileSync(join(DIST, 'assets', file)), { level: 9 }).length,
    0,
  )
  expect(weight).toBeLessThan(MOST_GZIPPED)
  expect(weight).toBeGreaterThan(20_000)
})

declare global {
  /** What stood in the middle of the screen, frame by frame since the station's name was there. */
  var framesDrawn: string[]
}

unhurried(
  'until the words for a solution are there the screen says that it computes, and no frame is empty; where they do not come it says so',
  async ({ page, watch }) => {
    await openBook(page, 'daylight', { at: '#now' })
    let send = () => {}
    const held = new Promise<void>(resolve => {
      send = resolve
    })
    await page.route('**/assets/NowAnswer-*.js', async route => {
      await held
      await route.continue()
    })
    await page.addInitScript(() => {
      globalThis.framesDrawn = []
      const look = () => {
        if (document.querySelector('.body-rows'))
          framesDrawn.push(document.querySelector('.screen-main')?.textContent ?? '')
        requestAnimationFrame(look)
      }
      requestAnimationFrame(look)
    })
    await page.reload()
    await expect(page.locator('.body-row')).toHaveCount(2)
    // The solution is there: what the bodies' readings are asked of comes after it.
    await expect(page.locator('.screen-main')).toContainText('Computing…')
    await expect(page.getByText('Own echoes lose less than')).toHaveCount(0)
    send()
    await expect(page.getByText('Own echoes lose less than')).toBeVisible()
    await expect(page.getByText('Worth doing next')).toBeVisible()
    const frames = await page.evaluate(() => globalThis.framesDrawn)
    expect(frames.length).toBeGreaterThan(3)
    expect(frames.filter(text => !/Computing…|Own echoes lose less than/.test(text))).toEqual([])

    // Where those words do not come the screen says so, and its readings stay.
    await page.unroute('**/assets/NowAnswer-*.js')
    watch.expected.push(/ERR_FAILED|Failed to load/)
    await page.route('**/assets/NowAnswer-*.js', route => route.abort())
    await page.reload()
    await expect(page.getByText(/^This part of the app did not load/)).toBeVisible()
    await expect(page.locator('.body-row')).toHaveCount(2)
    await page.unroute('**/assets/NowAnswer-*.js')
    await page.getByRole('button', { name: 'Load the page again' }).click()
    await expect(page.getByText('Own echoes lose less than')).toBeVisible()
  },
)

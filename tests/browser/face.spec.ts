/** The face for the field: the live screens fit a small phone, and a sighting is stamped from the keyboard alone. */
import { readFileSync } from 'node:fs'
import { expect, type Page, test } from './rig.ts'

const DEMO = JSON.parse(readFileSync(new URL('../../public/demo.fieldbook.json', import.meta.url), 'utf8'))
/** After the demo's last sighting, so that its solution does not change with the day of the test. */
const NOW = '2026-11-25T13:00:00Z'

test.slow()

async function withDemo(page: Page): Promise<void> {
  // A browser without service workers: one would hand out the demo file of the build instead of this one.
  await page.addInitScript(() => Reflect.deleteProperty(Navigator.prototype, 'serviceWorker'))
  await page.clock.install({ time: new Date(NOW) })
  await page.route('**/demo.fieldbook.json', route => route.fulfill({ json: DEMO }))
  await page.goto('./')
  await page.getByRole('button', { name: 'Look around in a demo station' }).click()
  await expect(page.getByText('of your Moon time loses less than')).toBeVisible()
}

/** Goes there and waits until it is drawn: the address is new and a frame has passed after it. */
async function show(page: Page, address: string): Promise<void> {
  await page.evaluate(
    a =>
      new Promise<void>(resolve => {
        location.hash = a
        // The clock of the page is a stand-in: a message is not.
        const channel = new MessageChannel()
        let turns = 0
        channel.port1.onmessage = () => (++turns > 5 ? resolve() : channel.port2.postMessage(0))
        channel.port2.postMessage(0)
      }),
    address,
  )
  await expect(page.getByRole('heading', { level: 1 })).toBeVisible()
}

test('the live screens show what matters on 360 × 640 without scrolling', async ({ page }) => {
  await page.setViewportSize({ width: 360, height: 640 })
  await withDemo(page)
  const bar = await page.getByRole('navigation').boundingBox()
  const action = await page.getByRole('button', { name: 'Record a sighting' }).boundingBox()
  const floor = action!.y
  expect(action!.y + action!.height).toBeLessThanOrEqual(bar!.y + 1)
  const bottoms = await page.evaluate(() =>
    [...document.querySelectorAll('.body-row')].map(e => e.getBoundingClientRect().bottom),
  )
  expect(bottoms).toHaveLength(2)
  for (const bottom of bottoms) expect(bottom).toBeLessThanOrEqual(floor)
  await show(page, 'sight')
  expect(await page.evaluate(() => document.documentElement.scrollHeight - innerHeight)).toBeLessThanOrEqual(0)
})

test('from the first screen to a stamped sighting with Tab and Enter alone', async ({ page }) => {
  await withDemo(page)
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

/**
 * The face for the field: every screen in every theme has nothing axe finds, never scrolls sideways (four windows, and
 * text at 200 %), is red on black at night, fits a small phone where it is live, and works from the keyboard.
 */
import { readFileSync } from 'node:fs'
import AxeBuilder from '@axe-core/playwright'
import { expect, type Page, test } from './rig.ts'

const DEMO = JSON.parse(readFileSync(new URL('../../public/demo.fieldbook.json', import.meta.url), 'utf8'))
/** After the demo's last sighting, so that its solution does not change with the day of the test. */
const NOW = '2026-11-25T13:00:00Z'
const THEMES = ['daylight', 'dusk', 'night'] as const

/** Every address a person comes to, but those that need a record's own name. */
const SCREENS = [
  'now',
  'sight',
  'sight/list',
  'sight/new',
  'sight/waiting',
  'sight/readings',
  'sight/other',
  'level',
  'level/measure',
  'level/mark',
  'level/change',
  'correct',
  'correct/left',
  'correct/suspects',
  'correct/sky',
  'correct/next',
  'correct/software',
  'correct/software/lower',
  'book',
  'book/new',
  'book/new/place',
  'book/new/mount',
  'book/bring',
  'book/hand-out',
  'book/history',
  'book/copies',
  'book/settings',
  'book/ready',
  'book/delete',
]
const WINDOWS = [
  { width: 390, height: 844 },
  { width: 360, height: 640 },
  { width: 844, height: 390 },
  { width: 1280, height: 800 },
]

// Each test goes through all screens: slow where the cores are shared.
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

const wear = (page: Page, theme: string) =>
  page.evaluate(t => {
    document.documentElement.dataset.theme = t
  }, theme)

for (const theme of THEMES) {
  test(`axe finds nothing on any screen by ${theme}`, async ({ page }) => {
    await withDemo(page)
    await show(page, 'book/settings')
    await wear(page, theme)
    const findings: string[] = []
    for (const address of SCREENS) {
      await show(page, address)
      expect(await page.evaluate(() => document.documentElement.dataset.theme)).toBe(theme)
      const { violations } = await new AxeBuilder({ page }).analyze()
      for (const v of violations) findings.push(`${address}: ${v.id}: ${v.nodes.map(n => n.html).join(' | ')}`)
    }
    expect(findings).toEqual([])
  })
}

test('no screen scrolls sideways in four windows, nor with text at 200 %', async ({ page }) => {
  await withDemo(page)
  const wide: string[] = []
  for (const address of SCREENS) {
    await show(page, address)
    for (const rootPx of [16, 32]) {
      await page.evaluate(px => {
        document.documentElement.style.fontSize = px === 16 ? '' : `${px}px`
      }, rootPx)
      for (const size of rootPx === 16 ? WINDOWS : WINDOWS.slice(0, 2)) {
        await page.setViewportSize(size)
        const over = await page.evaluate(() => {
          const root = document.documentElement
          return Math.max(root.scrollWidth, document.body.scrollWidth) - root.clientWidth
        })
        if (over > 0) wide.push(`${address} at ${size.width} × ${size.height}, text ${rootPx}: ${over} px too wide`)
      }
    }
  }
  expect(wide).toEqual([])
})

test('at night no pixel of any screen has green or blue above 10 %', async ({ page, context }) => {
  await withDemo(page)
  await wear(page, 'night')
  const reader = await context.newPage()
  const bright: string[] = []
  for (const address of SCREENS) {
    await show(page, address)
    const png = await page.screenshot({ scale: 'css', fullPage: true })
    const worst = await reader.evaluate(async base64 => {
      const image = new Image()
      image.src = `data:image/png;base64,${base64}`
      await image.decode()
      const canvas = document.createElement('canvas')
      canvas.width = image.width
      canvas.height = image.height
      const pen = canvas.getContext('2d')!
      pen.drawImage(image, 0, 0)
      const { data } = pen.getImageData(0, 0, image.width, image.height)
      let most = 0
      let red = 0
      for (let i = 0; i < data.length; i += 4) {
        most = Math.max(most, data[i + 1]!, data[i + 2]!)
        red = Math.max(red, data[i]!)
      }
      return { most, red }
    }, png.toString('base64'))
    // 10 % of 255, and something must be drawn.
    if (worst.most > 25.5 || worst.red < 100) bright.push(`${address}: ${JSON.stringify(worst)}`)
  }
  expect(bright).toEqual([])
})

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

test('contrast preference, forced colours and reduced motion leave every screen readable', async ({ page }) => {
  await withDemo(page)
  for (const media of [{ contrast: 'more' }, { forcedColors: 'active' }, { reducedMotion: 'reduce' }] as const) {
    await page.emulateMedia(media)
    for (const address of SCREENS) {
      await show(page, address)
      const same = await page.evaluate(() => {
        const h = getComputedStyle(document.querySelector('h1')!)
        return h.color === getComputedStyle(document.body).backgroundColor
      })
      expect(same, address).toBe(false)
    }
    await page.emulateMedia({ contrast: null, forcedColors: null, reducedMotion: null })
  }
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

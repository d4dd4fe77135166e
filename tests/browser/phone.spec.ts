/**
 * The phone as a level in a real browser: sensors by the browser's own emulation where it has one, else by events made in
 * the page; denied and granted, both ways to hold it, beta at ±90°, no sensor, silence, the page hidden and back.
 */
import { axeFinds } from './looks.ts'
import { expect, type Page, test } from './rig.ts'
import { hands, lay, tilt } from './tilt.ts'
import { goTo, openDemo, press } from './walk.ts'

declare global {
  interface Window {
    answer: string
    push: (x: number, y: number, z: number) => void
    pushing: ReturnType<typeof setInterval>
  }
}

async function demoAt(page: Page, hash: string): Promise<void> {
  await openDemo(page)
  await goTo(page, hash)
}
const big = (page: Page) => page.locator('.big-value').first()

const IS_WITHOUT_WINDOWS = /headless-shell/.test(process.env.CHROMIUM ?? '')
/** The browser's own emulation of the sensor. */
async function emulated(page: Page, beta: number): Promise<void> {
  const session = await page.context().newCDPSession(page)
  await session.send('DeviceOrientation.setDeviceOrientationOverride', { alpha: 0, beta, gamma: 3 })
}

test('takes a reading by itself once still, upright and on both sides too, and in silence', async ({ page }) => {
  await hands(page)
  await demoAt(page, 'mount/live')
  await expect(
    page.getByText('Waiting for the sensors…').or(page.getByText(/no tilt sensor|No sensor has/)),
  ).toBeVisible()
  // One event and then silence: the phone rests.
  await tilt(page, 3.2, -1.4)
  await expect(big(page)).toHaveText('3.2°')
  await expect(page.getByText('Top end up')).toBeVisible()
  await expect(page.getByText(/^Still: [123]$/)).toBeVisible()
  await expect(page.getByRole('heading', { name: 'Taken' })).toBeVisible()
  await expect(page.getByRole('status').first()).toContainText(/3\.2°.*1\.2°/)
  await press(page, 'Measure again')
  // beta at ±90°, where alpha and gamma say nothing; and lying on its sides.
  for (const [beta, gamma, says, lies] of [
    [90, 77, 'Top end up 90.0°', 'upright'],
    [-90, -33, 'Top end down 90.0°', 'upside down'],
    [5, 89.9, 'Top end up 5.0°', 'on its right edge'],
    [180, 0, 'Top end level 0.0°', 'on its face'],
  ] as const) {
    await tilt(page, beta, gamma)
    const [word, number] = [says.slice(0, says.lastIndexOf(' ')), says.slice(says.lastIndexOf(' ') + 1)]
    await expect(page.getByText(word, { exact: true })).toBeVisible()
    await expect(big(page)).toHaveText(number)
    await expect(page.getByText(`The phone lies ${lies}.`)).toBeAttached()
  }
  await page.setViewportSize({ width: 844, height: 390 })
  await tilt(page, -90, 12)
  await expect(big(page)).toHaveText('90.0°')
  await page.getByRole('radio', { name: 'Plane of the screen' }).check()
  await expect(page.getByText('Screen faces level')).toBeVisible()
})

test('a reversal with a wrong turn is refused by name, the right one finds the error, and it is taken off and told', async ({
  page,
}) => {
  await hands(page)
  await demoAt(page, 'mount/reversal/long')
  await tilt(page, 12.4, 1)
  await expect(page.getByRole('heading', { name: 'Second position' })).toBeVisible()
  await expect(page.getByText('Turn it, then let go')).toBeVisible()
  await tilt(page, -11.8, 1)
  await expect(page.getByText(/^Still/)).toBeVisible()
  await press(page, 'Take it now')
  await expect(page.getByText(/the face did not/)).toBeVisible()
  await press(page, 'Take the second again')
  await expect(page.getByText('Turn it, then let go')).toBeVisible()
  await lay(page, -168.4, 1)
  await expect(page.getByRole('status').filter({ hasText: 'Turned the right way' })).toContainText(
    /0\.40\s±\s0\.1\d?° too much/,
  )
  await press(page, 'Keep its bias')
  await expect(page.getByRole('button', { name: /Long edge/ })).toContainText(
    /Its bias of 0\.40°, found .* is taken off/,
  )
  // A level by the same edge.
  await page.evaluate(() => {
    location.hash = 'mount/measure/lower-axis-elevation'
  })
  await press(page, 'Measure with the phone')
  await tilt(page, 1.4, 1)
  await expect(page.getByText(/^Still/)).toBeVisible()
  await press(page, 'Take it now')
  await expect(page.getByLabel('It shows', { exact: true })).toHaveValue('1.4')
  await expect(page.getByRole('status').filter({ hasText: 'Result' })).toContainText(/right-hand end up\s1\.0/i)
  await press(page, 'Keep this level')
  await expect(page.getByText('Kept in the book')).toBeVisible()
  await expect(page.getByText(/right-hand end up\s1\.0/)).toBeVisible()
  await expect(page.getByText('Phone, long edge')).toBeVisible()
})

test('a mast by the phone: side after side, its lean and where to shim, and what matters more on this mount', async ({
  page,
}) => {
  await hands(page)
  await demoAt(page, 'mount/measure/mast-lean')
  await expect(page.getByText(/This mount does not turn about its mast/)).toBeVisible()
  await page.getByRole('button', { name: 'Measure with the phone' }).first().click()
  // 1° toward 225°, shown 0.5° too much by the screen's own axis: its back points up by 0.5 + cos(h - 225°).
  for (const [n, back] of [
    [1, -0.2],
    [2, 0.2],
    [3, 1.5],
  ] as const) {
    await expect(page.getByRole('heading', { name: `Reading ${n}` })).toBeVisible()
    await lay(page, 90 + back, 0)
    await expect(big(page)).toHaveText(`${Math.abs(back).toFixed(1)}°`)
    await expect(page.getByText(/^Still/)).toBeVisible()
    await press(page, 'Take it now')
  }
  await expect(page.getByRole('status').filter({ hasText: 'leans' })).toContainText(
    /leans 1\.0.* toward the south-west, 17\.\d\smm per metre/,
  )
  await expect(page.getByLabel('Reading 3', { exact: true })).toHaveValue('1.5')
  await press(page, 'Keep this level')
  await expect(page.getByText('Kept in the book')).toBeVisible()
  await expect(page.getByText('Phone, plane of the screen')).toBeVisible()
})

test('permission is asked in one tap for both kinds; denied says what to do, granted goes on', async ({ page }) => {
  await hands(page)
  await page.addInitScript(() => {
    window.answer = 'denied'
    const asked: string[] = []
    for (const [name, of] of [
      ['orientation', DeviceOrientationEvent],
      ['motion', DeviceMotionEvent],
    ] as const)
      Object.defineProperty(of, 'requestPermission', {
        configurable: true,
        value: async () => {
          asked.push(name)
          document.documentElement.dataset.asked = asked.join(' ')
          return window.answer
        },
      })
    // A phone that must be asked sends nothing before.
    for (const name of ['deviceorientation', 'devicemotion'])
      addEventListener(name, event => event.isTrusted && event.stopImmediatePropagation(), true)
  })
  await demoAt(page, 'mount/live')
  await expect(page.getByText(/asks you first whether this page may use/)).toBeVisible()
  await press(page, 'Start the sensors')
  await expect(page.getByText(/Allow motion sensors in the browser’s settings for this page/)).toBeVisible()
  expect(await page.evaluate(() => document.documentElement.dataset.asked)).toBe('orientation motion')
  await expect(page.getByRole('button', { name: 'Take it now' })).toHaveAttribute('aria-disabled', 'true')
  await page.evaluate(() => {
    window.answer = 'granted'
    location.hash = 'book/sensors'
  })
  await expect(page.getByText('denied', { exact: true }).first()).toBeVisible()
  await press(page, 'Start the sensors')
  await expect(page.getByText('granted', { exact: true })).toBeVisible()
  for (let k = 0; k < 8; k++) await tilt(page, 10 + 0.3 * k, 0.7 * k)
  await expect(page.getByText('delivering', { exact: true })).toBeVisible()
  await expect(page.getByText('0.100°').first()).toBeVisible()
})

test('a machine without sensors says so and leaves typing; a hidden page comes back and waits for news', async ({
  page,
}) => {
  await hands(page)
  await demoAt(page, 'mount/live')
  // A Chromium without windows emulates no sensor: asked to, it sends its one event of nothing.
  if (IS_WITHOUT_WINDOWS) await emulated(page, 21.34)
  else await tilt(page, null, null)
  await expect(page.getByText(/reports no tilt sensor. Type what an inclinometer shows/)).toBeVisible()
  await tilt(page, 7, 0)
  await expect(big(page)).toHaveText('7.0°')
  await page.evaluate(() => window.hide(true))
  await expect(page.getByText(/hidden pages get no sensors/)).toBeVisible()
  await page.evaluate(() => window.hide(false))
  await expect(page.getByText(/Tilt the phone a little|no tilt sensor/)).toBeVisible()
  await tilt(page, 8, 0)
  await expect(big(page)).toHaveText('8.0°')
  await press(page, 'Take it now')
  await expect(page.getByRole('heading', { name: 'Taken' })).toBeVisible()
  expect(await axeFinds(page)).toEqual([])
})

test('acceleration alone does, once the phone has been laid on its back, whichever way it counts', async ({ page }) => {
  await hands(page)
  await page.addInitScript(() => {
    for (const name of ['deviceorientation', 'devicemotion'])
      addEventListener(name, event => event.isTrusted && event.stopImmediatePropagation(), true)
    // As an Apple phone counts: on its back it shows -z.
    window.push = (x, y, z) => {
      const send = () =>
        dispatchEvent(
          new DeviceMotionEvent('devicemotion', { accelerationIncludingGravity: { x, y, z }, interval: 16 }),
        )
      clearInterval(window.pushing)
      send()
      window.pushing = setInterval(send, 50)
    }
  })
  await demoAt(page, 'mount/live')
  await page.evaluate(() => window.push(0, -6.9, -6.9))
  await expect(page.getByText(/not yet which way it counts/)).toBeVisible()
  await press(page, 'It lies on its back')
  await expect(page.getByText(/does not seem to lie level on its back/)).toBeVisible()
  await page.evaluate(() => window.push(0, -0.1, -9.8))
  await press(page, 'It lies on its back')
  await page.evaluate(() => window.push(0, -6.9, -6.9))
  await expect(page.getByText('Top end up')).toBeVisible()
  await expect(big(page)).toHaveText('45.0°')
})

if (!IS_WITHOUT_WINDOWS)
  test('the whole pipeline of the browser: its own emulated sensor turns up as the same tilt', async ({ page }) => {
    await demoAt(page, 'mount/live')
    await emulated(page, 21.34)
    await expect(big(page)).toHaveText('21.3°')
    await emulated(page, -90)
    await expect(big(page)).toHaveText('90.0°')
    await expect(page.getByText('Top end down')).toBeVisible()
  })

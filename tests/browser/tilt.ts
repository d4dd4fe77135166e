/** A phone held in a hand, for the walks: orientation events made in the page, rounded as browsers round them. */
import { expect, type Page } from './rig.ts'

declare global {
  interface Window {
    tilt: (beta: number | null, gamma: number | null) => void
    shake: (on: boolean) => void
    hide: (hidden: boolean) => void
  }
}

/** Events made in the page, rounded to 0.1° as browsers do, and a page that can be hidden. */
export async function hands(page: Page): Promise<void> {
  await page.addInitScript(() => {
    const send = (beta: number | null, gamma: number | null) => {
      const round = (x: number | null) => (x === null ? null : Math.round(10 * x) / 10)
      dispatchEvent(
        new DeviceOrientationEvent('deviceorientation', { alpha: 0, beta: round(beta), gamma: round(gamma) }),
      )
    }
    let shaking: ReturnType<typeof setInterval> | undefined
    window.tilt = (beta, gamma) => {
      clearInterval(shaking)
      send(beta, gamma)
    }
    window.shake = on => {
      clearInterval(shaking)
      let k = 0
      if (on) shaking = setInterval(() => send(40 * Math.sin(k++), 30 * Math.cos(k)), 40)
    }
    window.hide = hidden => {
      Object.defineProperty(document, 'visibilityState', { value: hidden ? 'hidden' : 'visible', configurable: true })
      document.dispatchEvent(new Event('visibilitychange'))
    }
  })
}

export const tilt = (page: Page, beta: number | null, gamma: number | null) =>
  page.evaluate(([b, g]) => window.tilt(b!, g!), [beta, gamma])
/** As a hand does: lifted, moved, put down. */
export async function lay(page: Page, beta: number, gamma: number): Promise<void> {
  await page.evaluate(() => window.shake(true))
  await expect(page.getByText('Moving', { exact: true })).toBeVisible()
  await tilt(page, beta, gamma)
}

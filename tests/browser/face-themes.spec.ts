/** Every screen in every theme: axe finds nothing, text stands out, and at night nothing but red is lit. */
import type { CDPSession } from '@playwright/test'
import { axeFinds, putAxeIn, tooSmall } from './looks.ts'
import { expect, type Page, test } from './rig.ts'
import { openBook, ROUTES, show, THEMES } from './routes.ts'

// Each test goes through all screens: slow where the cores are shared.
test.slow()
test.use({ deviceScaleFactor: 1 }) // a fourth of the pixels to draw and to read

/** The most green or blue, and the most red, of any pixel of the window. Read in another page: this one keeps its own policy. */
async function brightest(camera: CDPSession, reader: Page): Promise<{ greenOrBlue: number; red: number }> {
  const { data: png } = await camera.send('Page.captureScreenshot', { format: 'png', optimizeForSpeed: true })
  return reader.evaluate(async base64 => {
    const image = new Image()
    image.src = `data:image/png;base64,${base64}`
    await image.decode()
    const canvas = new OffscreenCanvas(image.width, image.height)
    const pen = canvas.getContext('2d')!
    pen.drawImage(image, 0, 0)
    const { data } = pen.getImageData(0, 0, image.width, image.height)
    let greenOrBlue = 0
    let red = 0
    for (let i = 0; i < data.length; i += 4) {
      greenOrBlue = Math.max(greenOrBlue, data[i + 1]!, data[i + 2]!)
      red = Math.max(red, data[i]!)
    }
    return { greenOrBlue, red }
  }, png)
}

for (const theme of THEMES) {
  const isNight = theme === 'night'
  test(`axe finds nothing on any screen by ${theme}, ${isNight ? 'and no pixel is other than red' : 'and all text stands out'}`, async ({
    page,
    context,
  }) => {
    const reader = await context.newPage()
    const camera = await context.newCDPSession(page)
    await openBook(page, theme)
    await putAxeIn(page)
    // By night high enough for whole forms: what lies below the fold must be dark too.
    if (isNight) await page.setViewportSize({ width: 390, height: 2400 })
    const findings: string[] = []
    for (const address of ROUTES) {
      await show(page, address)
      expect(await page.evaluate(() => document.documentElement.dataset.theme)).toBe(theme)
      // By day 7:1 or better (WCAG 2.1, 1.4.6), else 4.5:1 (1.4.3).
      // Between themes only colours and sizes differ: all else is looked at once.
      const rules =
        theme === 'daylight'
          ? { rules: { 'color-contrast-enhanced': { enabled: true } } }
          : { runOnly: ['color-contrast', 'target-size', 'link-in-text-block'] }
      for (const finding of await axeFinds(page, rules)) findings.push(`${address}: ${finding}`)
      if (theme === 'daylight')
        for (const small of await tooSmall(page)) findings.push(`${address}: too small: ${small}`)
      if (!isNight) continue
      const { greenOrBlue, red } = await brightest(camera, reader)
      // 10 % of 255; and something must be drawn.
      if (greenOrBlue > 25.5 || red < 100) findings.push(`${address}: green or blue ${greenOrBlue}, red ${red}`)
    }
    expect(findings).toEqual([])
  })
}

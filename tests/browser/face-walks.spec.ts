/**
 * The screens, gone through three times. By day: axe finds nothing, text stands out by dusk and in forced colours too,
 * nothing moves. By night: nothing but red is lit. In all three no screen is longer than 2500 px. In four windows: nothing
 * scrolls sideways.
 */
import type { CDPSession } from '@playwright/test'
import { axeFinds, brokenWords, seemsPressable, tooLong, tooSmall, tooWide } from './looks.ts'
import { expect, isWhole, type Page, test } from './rig.ts'
import { faceBook, openBook, ROUTES, show, type Theme } from './routes.ts'

// Each test goes through all screens: slow where the cores are shared.
test.slow()

/** Between themes only colours and sizes differ: all else is looked at once. */
const COLOURS = { runOnly: ['color-contrast', 'target-size', 'link-in-text-block'] }
/** WCAG 2.1, 1.4.6: 7:1 or better by day. Else 1.4.3: 4.5:1. */
const ALL = { rules: { 'color-contrast-enhanced': { enabled: true } } }

/** In `npm test` each walk takes a twentieth of the screens, other ones than its neighbours; `npm run face` takes all in all. */
const some = (which: 0 | 1 | 2) => (isWhole ? ROUTES : ROUTES.filter((_, k) => k % 20 === 6 * which))

const themeOf = (page: Page) => page.evaluate(() => document.documentElement.dataset.theme)
const wear = (page: Page, theme: Theme) =>
  page.evaluate(worn => {
    document.documentElement.dataset.theme = worn
  }, theme)

/** What is picked and what is not look alike; what moves. */
const pickedAndMoving = (page: Page) =>
  page.evaluate(() => {
    const plates = [...document.querySelectorAll('.choice-one')].map(plate => {
      const look = getComputedStyle(plate.querySelector('span')!)
      return {
        isPicked: plate.querySelector('input')!.checked,
        look: `${look.backgroundColor} ${look.borderTopWidth}`,
      }
    })
    const unpicked = new Set(plates.filter(p => !p.isPicked).map(p => p.look))
    const moves = [...document.querySelectorAll('*')].filter(e => {
      const { animationName, transitionDuration } = getComputedStyle(e)
      return animationName !== 'none' || transitionDuration !== '0s'
    })
    return { alike: plates.filter(p => p.isPicked && unpicked.has(p.look)).length, moving: moves.length }
  })

test('axe finds nothing on any screen; text stands out by day, by dusk and in forced colours; nothing moves; none is longer than 2500 px', async ({
  page,
}) => {
  await openBook(page, 'daylight')
  const findings: string[] = []
  const note = (address: string, where: string, found: readonly string[]) => {
    for (const finding of found) findings.push(`${address}, ${where}: ${finding}`)
  }
  for (const address of some(0)) {
    await show(page, address)
    expect(await themeOf(page)).toBe('daylight')
    note(address, 'daylight', await axeFinds(page, ALL))
    note(address, 'too small', await tooSmall(page))
    note(address, 'pressable', await seemsPressable(page))
    note(address, 'daylight', await tooLong(page))
    await wear(page, 'dusk')
    note(address, 'dusk', await tooLong(page))
    note(address, 'dusk', await axeFinds(page, COLOURS))
    await wear(page, 'daylight')
    await page.emulateMedia({ forcedColors: 'active', reducedMotion: 'reduce' })
    note(address, 'forced colours', await axeFinds(page, { runOnly: ['color-contrast'] }))
    const { alike, moving } = await pickedAndMoving(page)
    if (alike > 0) findings.push(`${address}, forced colours: what is picked looks like what is not`)
    if (moving > 0) findings.push(`${address}: something moves`)
    await page.emulateMedia({ forcedColors: null, reducedMotion: null })
  }
  expect(findings).toEqual([])
})

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

const WINDOWS = [
  { width: 360, height: 640, textPx: 16 },
  { width: 390, height: 844, textPx: 32 },
  { width: 844, height: 390, textPx: 16 },
  { width: 1280, height: 800, textPx: 16 },
]

test('by night no pixel of any screen is other than red, and none is longer than 2500 px', async ({
  page,
  context,
}) => {
  const reader = await context.newPage()
  const camera = await context.newCDPSession(page)
  await openBook(page, 'night')
  // High enough for whole forms: what lies below the fold must be dark too.
  await page.setViewportSize({ width: 390, height: 2400 })
  const findings: string[] = []
  for (const address of some(1)) {
    await show(page, address)
    expect(await themeOf(page)).toBe('night')
    for (const finding of await axeFinds(page, COLOURS)) findings.push(`${address}: ${finding}`)
    for (const finding of await tooLong(page)) findings.push(`${address}: ${finding}`)
    const { greenOrBlue, red } = await brightest(camera, reader)
    // 10 % of 255; and something must be drawn.
    if (greenOrBlue > 25.5 || red < 100) findings.push(`${address}: green or blue ${greenOrBlue}, red ${red}`)
  }
  expect(findings).toEqual([])
})

test('no screen scrolls sideways in any window, with text at 200 %, or with a name of 300 characters; at 200 % no word is broken and no field too narrow', async ({
  page,
}) => {
  // By night the letters are largest.
  await openBook(page, 'night', { book: faceBook(`${'Ridge-above-the-old-quarry '.repeat(6)}${'W'.repeat(138)}`) })
  const wide: string[] = []
  for (const address of some(2)) {
    await show(page, address)
    for (const { width, height, textPx } of WINDOWS) {
      await page.setViewportSize({ width, height })
      await page.evaluate(px => {
        document.documentElement.style.fontSize = px === 16 ? '' : `${px}px`
      }, textPx)
      const large = textPx === 16 ? [] : [...(await brokenWords(page)), ...(await tooSmall(page))]
      for (const what of [...(await tooWide(page)), ...large])
        wide.push(`${address} at ${width} × ${height}, text ${textPx} px: ${what}`)
    }
  }
  expect(wide).toEqual([])
})

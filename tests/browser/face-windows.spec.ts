/** Every screen in windows of every shape, with large text, long names, the person's own colours, and without motion. */
import { axeFinds, putAxeIn, tooWide } from './looks.ts'
import { expect, test } from './rig.ts'
import { faceBook, openBook, ROUTES, show } from './routes.ts'

test.slow()
test.use({ deviceScaleFactor: 1 })

const WINDOWS = [
  { width: 360, height: 640, textPx: 16 },
  { width: 390, height: 844, textPx: 32 },
  { width: 844, height: 390, textPx: 16 },
  { width: 1280, height: 800, textPx: 16 },
]

test('no screen scrolls sideways in any window, with text at 200 %, or with a name of 300 characters', async ({
  page,
}) => {
  // By night the letters are largest.
  await openBook(page, 'night', faceBook(`${'Ridge-above-the-old-quarry '.repeat(6)}${'W'.repeat(138)}`))
  const wide: string[] = []
  for (const address of ROUTES) {
    await show(page, address)
    for (const { width, height, textPx } of WINDOWS) {
      await page.setViewportSize({ width, height })
      await page.evaluate(px => {
        document.documentElement.style.fontSize = px === 16 ? '' : `${px}px`
      }, textPx)
      for (const what of await tooWide(page))
        wide.push(`${address} at ${width} × ${height}, text ${textPx} px: ${what}`)
    }
  }
  expect(wide).toEqual([])
})

test('forced colours leave all text readable and what is picked told; nothing moves', async ({ page }) => {
  await openBook(page, 'daylight')
  await putAxeIn(page)
  await page.emulateMedia({ forcedColors: 'active', reducedMotion: 'reduce' })
  const wrong: string[] = []
  for (const address of ROUTES) {
    await show(page, address)
    const contrast = { runOnly: ['color-contrast'] }
    for (const finding of await axeFinds(page, contrast)) wrong.push(`${address}: ${finding}`)
    const seen = await page.evaluate(() => {
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
    if (seen.alike > 0) wrong.push(`${address}: what is picked looks like what is not`)
    if (seen.moving > 0) wrong.push(`${address}: something moves`)
  }
  expect(wrong).toEqual([])
})

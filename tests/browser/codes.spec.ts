/** A book handed over by codes: one phone's screen shows them, the other phone's camera sees that screen. No network on either. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { type BrowserContext, chromium } from '@playwright/test'
import { modulesOfFrame } from '../../src/core/handover/code.ts'
import { sequenceOf } from '../../src/core/handover/sequence.ts'
import { packed } from '../../src/device/packing.ts'
import { lettersOf } from '../../src/state/codes.ts'
import { stationWith } from '../helpers/many.ts'
import { seenByCamera } from '../helpers/pictures.ts'
import { bookOf } from '../helpers/simulate.ts'
import { CHROMIUM_ARGS } from './chromium.mjs'
import { HANDSET } from './handset.ts'
import { axeFinds, tooSmall, tooWide } from './looks.ts'
import { expect, isWhole, type Page, test, unhurried, untilOffline } from './rig.ts'
import { goTo, handedOut, lookAt, press, write } from './walk.ts'

test.use({ serviceWorkers: 'allow' })

declare global {
  /** What the camera gave last. */
  var opened: MediaStream
  /** What the camera sees next: a picture of the other phone's code. */
  var holdBefore: (png: string, turnDeg: number) => Promise<void>
}

/** In place of the camera: a canvas that holds the other phone's screen, turned a little and not quite sharp. */
function canvasForCamera(): void {
  const canvas = document.createElement('canvas')
  canvas.width = 1280
  canvas.height = 720
  const ink = canvas.getContext('2d')!
  ink.fillStyle = '#5a6058'
  ink.fillRect(0, 0, 1280, 720)
  navigator.mediaDevices.getUserMedia = async () => canvas.captureStream(30)
  globalThis.holdBefore = async (png, turnDeg) => {
    const picture = new Image()
    picture.src = `data:image/png;base64,${png}`
    await picture.decode()
    ink.save()
    ink.filter = 'blur(0.8px)'
    ink.fillStyle = '#5a6058'
    ink.fillRect(0, 0, 1280, 720)
    ink.translate(640, 360)
    ink.rotate((turnDeg * Math.PI) / 180)
    ink.drawImage(picture, -270, -270, 540, 540)
    ink.restore()
  }
}

const offline = async (page: Page, context: BrowserContext) => {
  await untilOffline(page)
  await context.setOffline(true)
}

/** The codes that run on one screen held before the other's camera, until `isDone`. @returns how many pictures were taken, how many lost */
async function carry(from: Page, to: Page, isDone: () => Promise<boolean>): Promise<{ taken: number; lost: number }> {
  const code = from.locator('svg.code')
  let [taken, lost] = [0, 0]
  for (let k = 0; k < 400 && !(await isDone()); k++) {
    // Each third picture is lost: the code goes by while the hand shakes.
    if (k % 3 === 1) {
      lost++
      await from.waitForTimeout(200)
      continue
    }
    const png = (await code.screenshot()).toString('base64')
    await to.evaluate(([picture, turn]) => holdBefore(picture, turn), [png, (k % 5) - 2] as const)
    await to.waitForTimeout(120)
    taken++
  }
  return { taken, lost }
}

/** 300 are some eighty pictures of a screen: `npm run face`. */
const SIGHTINGS = isWhole ? 300 : 12

test(`a book of ${SIGHTINGS} sightings crosses from screen to camera with a third of the pictures lost, both phones offline`, async ({
  page,
  context,
  browser,
  baseURL,
  watch,
}) => {
  test.setTimeout(400_000)
  watch.expected.push(/ERR_INTERNET_DISCONNECTED/)
  const book = bookOf(stationWith(SIGHTINGS, 0))
  await page.goto('./')
  await offline(page, context)
  await lookAt(page, JSON.stringify(book))
  await press(page, /^Import/)
  await expect(page.getByText(/imported\./)).toBeVisible()
  const sent = JSON.parse(await handedOut(page))

  await press(page, 'Show as codes')
  await expect(page.getByRole('heading', { level: 1, name: 'As codes' })).toBeVisible()
  await expect(page.getByText(/The other phone needs about/)).toBeVisible()
  const still = await page.locator('svg.code path').getAttribute('d')
  await page.waitForTimeout(500)
  // Nothing runs before it is asked to.
  expect(await page.locator('svg.code path').getAttribute('d')).toBe(still)
  expect(await axeFinds(page)).toEqual([])
  expect(await tooWide(page)).toEqual([])
  expect(await tooSmall(page)).toEqual([])
  await press(page, 'Slower')
  await expect(page.getByText(/^3\scodes a second/)).toBeVisible()
  await press(page, 'Start the codes')

  const second = await browser.newContext({ ...HANDSET, serviceWorkers: 'allow' })
  const other = await second.newPage()
  await other.addInitScript(canvasForCamera)
  await other.goto(baseURL!)
  await offline(other, second)
  await goTo(other, '#book/import')
  await press(other, 'Read codes with the camera')
  await press(other, 'Start the camera')
  await expect(other.getByText('Looking for a code…')).toBeVisible()
  const done = other.getByRole('heading', { level: 1, name: 'Import' })
  const parts = other.locator('.big-unit')
  let wasSeen = ''
  const figures = await carry(page, other, async () => {
    if (await parts.isVisible()) wasSeen = (await parts.textContent({ timeout: 200 }).catch(() => null)) ?? wasSeen
    return done.isVisible()
  })
  expect(wasSeen).toMatch(/^of \d+ parts$/)
  expect(figures.lost).toBeGreaterThan(figures.taken / 3)

  // The ordinary import: looked at first, then stored.
  await press(other, /^Import \d+\srecords$/)
  await expect(other.getByText(/imported\./)).toBeVisible()
  const came = JSON.parse(await handedOut(other))
  expect(came.stations).toEqual(sent.stations)
  expect(came.stations[0].sightings).toHaveLength(SIGHTINGS)

  await press(page, 'Stop the codes')
  const stopped = await page.locator('svg.code path').getAttribute('d')
  await page.waitForTimeout(900)
  expect(await page.locator('svg.code path').getAttribute('d')).toBe(stopped)
  await second.close()
})

test('a camera that is refused, or not there, is said, and the other ways are offered', async ({ page }) => {
  await page.goto('./')
  await goTo(page, '#book/read')
  // This browser has no camera, and asks nobody.
  await press(page, 'Start the camera')
  await expect(page.getByRole('alert')).toContainText(/This device has no camera|The camera was refused/)
  await page.evaluate(() => {
    navigator.mediaDevices.getUserMedia = async () => {
      throw new DOMException('denied', 'NotAllowedError')
    }
  })
  await press(page, 'Start the camera')
  await expect(page.getByRole('alert')).toContainText('The camera was refused. Allow it for this site')
  await press(page, 'Import a file or a text instead')
  await expect(page.getByLabel('Choose a file')).toBeVisible()
})

test('a short text is one code, which the camera’s screen reads as a text; a page loaded again says that codes are gone', async ({
  page,
}) => {
  await page.addInitScript(canvasForCamera)
  await page.goto('./')
  await lookAt(page, JSON.stringify(bookOf(stationWith(4, 0))))
  await press(page, /^Import/)
  await expect(page.getByText(/imported\./)).toBeVisible()
  await goTo(page, '#book/export/table')
  await write(page, 'For how many hours', '2')
  await expect(page.getByText(/^12\srows$/)).toBeVisible()
  await press(page, 'Show as codes')
  const code = page.locator('svg.code')
  await expect(code).toBeVisible()
  await expect(page.getByText('Any phone’s camera reads this code as text.')).toBeVisible()
  const png = (await code.screenshot()).toString('base64')
  await goTo(page, '#book/read')
  await press(page, 'Start the camera')
  await page.evaluate(picture => holdBefore(picture, 0), png)
  await expect(page.getByText('This code is not one of a running sequence.')).toBeVisible()
  await page.getByText('The text itself').click()
  await expect(page.getByRole('textbox', { name: 'The text itself' })).toHaveValue(/^utc,target,azDeg,[^\n]*\n.*,moon,/)
  await goTo(page, '#book/import/codes')
  await expect(page.getByText('What came by codes is gone')).toBeVisible()
})

/** A film for the browser's own make-believe camera (YUV4MPEG2, grey): codes seen at a slant, one after the other, round and round. */
function filmOf(texts: readonly string[]): Buffer {
  const [width, height, side] = [640, 480, 480]
  const pieces = [Buffer.from(`YUV4MPEG2 W${width} H${height} F4:1 Ip A1:1 C420jpeg\n`)]
  texts.forEach((text, k) => {
    const look = {
      side,
      fill: 0.8,
      turnDeg: 3 * (k % 5) - 6,
      slantUp: 0.05 * (k % 3),
      blurPx: 0.8,
      noise: 5,
      seed: k + 1,
    }
    const { data } = seenByCamera(modulesOfFrame(text), look)
    const luma = Buffer.alloc(width * height, 90)
    for (let y = 0; y < side; y++)
      for (let x = 0; x < side; x++) luma[y * width + x + (width - side) / 2] = data[4 * (y * side + x)]!
    pieces.push(Buffer.from('FRAME\n'), luma, Buffer.alloc((width * height) / 2, 128))
  })
  return Buffer.concat(pieces)
}

// Its picture is a film that is made first.
unhurried(
  'the browser’s own camera is opened, read and let go: a film of codes, two of every three, ends in the import',
  async ({ baseURL }) => {
    test.setTimeout(200_000)
    const book = { ...bookOf(stationWith(12, 0)), exportedUtc: '2026-05-01T12:00:00Z' }
    const s = sequenceOf(await packed(lettersOf({ name: 'ridge.fieldbook.txt', text: JSON.stringify(book) })))!
    const texts = Array.from({ length: 6 * s.count }, (_, k) => s.code(k)).filter((_, k) => k % 3 !== 1)
    const folder = mkdtempSync(join(tmpdir(), 'film-'))
    const film = join(folder, 'codes.y4m')
    writeFileSync(film, filmOf(texts))
    const browser = await chromium.launch({
      ...(process.env.CHROMIUM && { executablePath: process.env.CHROMIUM }),
      args: [
        ...CHROMIUM_ARGS,
        '--use-fake-ui-for-media-stream',
        '--use-fake-device-for-media-stream',
        `--use-file-for-fake-video-capture=${film}`,
      ],
    })
    try {
      const page = await (await browser.newContext(HANDSET)).newPage()
      await page.addInitScript(() => {
        const real = navigator.mediaDevices.getUserMedia.bind(navigator.mediaDevices)
        navigator.mediaDevices.getUserMedia = async wish => {
          const stream = await real(wish)
          globalThis.opened = stream
          return stream
        }
      })
      await page.goto(baseURL!)
      await goTo(page, '#book/read')
      await press(page, 'Start the camera')
      await press(page, /^Import \d+\srecords$/)
      await expect(page.getByText(/imported\./)).toBeVisible()
      expect(JSON.parse(await handedOut(page)).stations[0].sightings).toHaveLength(12)
      expect(await page.evaluate(() => opened.getTracks().map(track => track.readyState))).toEqual(['ended'])
    } finally {
      await browser.close()
      rmSync(folder, { recursive: true })
    }
  },
)

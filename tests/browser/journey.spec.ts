/**
 * The whole job with no network: an empty phone, a station, six sightings, the solution, the export; the desk gives the same
 * solution; everything is there with the server stopped, and after the browser was killed.
 */
import { spawnSync } from 'node:child_process'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { chromium } from '@playwright/test'
import { batch, difference, sixSightings } from '../helpers/paperjourney.ts'
import { CHROMIUM_ARGS } from './chromium.mjs'
import { expect, type Page, test, untilOffline } from './rig.ts'
import { typeSightings } from './typedsighting.ts'
import { goTo, handedOut, press } from './walk.ts'

test.slow()
test.use({ serviceWorkers: 'allow' })

const box = (page: Page, name: string | RegExp) => page.getByRole('textbox', { name })

/** A hand that counts: what it pressed (a field that is typed in is pressed first), and what it typed. */
function countingHand(page: Page) {
  const count = { taps: 0, fields: 0 }
  return {
    count,
    press: async (name: string | RegExp) => {
      count.taps++
      await press(page, name)
    },
    pick: async (name: string | RegExp) => {
      count.taps++
      await page.getByRole('radio', { name }).check()
    },
    type: async (name: string, text: string) => {
      count.taps++
      count.fields++
      await box(page, name).fill(text)
    },
  }
}

/** From an empty phone to a kept station, by the three questions alone. */
async function makeStation(page: Page): Promise<{ taps: number; fields: number }> {
  const hand = countingHand(page)
  await hand.press('Set up my station')
  await hand.type('Latitude', '47 30')
  await hand.type('Longitude', '9,3')
  await hand.press('Next: Mount')
  await hand.pick(/^Azimuth and elevation/)
  await hand.press('Next: Dish')
  await hand.type('Diameter', '3')
  await hand.pick(/^1296/)
  await hand.press('Done: to the review')
  await hand.press('Keep the station')
  await expect(page.getByRole('button', { name: 'Undo: make My station' })).toBeVisible()
  return hand.count
}

test('with no network from an empty phone to a solution that the desk reproduces', async ({
  page,
  context,
  ownServer,
  watch,
}) => {
  const folder = mkdtempSync(join(tmpdir(), 'journey-'))
  const sightings = sixSightings(folder)
  expect(sightings).toHaveLength(6)
  await page.goto(ownServer.url)
  await untilOffline(page)
  await ownServer.stop()
  await context.setOffline(true)
  // The browser's own look for a new service worker finds nobody.
  watch.expected.push(/ERR_INTERNET_DISCONNECTED|ERR_CONNECTION_REFUSED/)

  const { taps, fields } = await makeStation(page)
  // Written into the program's plan: at most 15 taps and 8 typed fields. It is 10 and 3 now.
  expect(taps).toBeLessThanOrEqual(15)
  expect(fields).toBeLessThanOrEqual(8)
  await typeSightings(
    page,
    sightings.map(({ utc, lower, upper }) => ({
      target: 'Sun',
      utc,
      readings: { 'azimuth, degrees': lower, 'elevation, degrees': upper },
    })),
  )
  await goTo(page, 'now')
  await expect(page.getByText('Own echoes lose less than')).toBeVisible()
  await expect(page.getByText(/From 6.sightings/)).toBeVisible()

  const solution = JSON.parse(await handedOut(page, /^The solution/))
  const fieldBook = await handedOut(page, /^The field book/)
  expect(solution.fit).toMatchObject({ used: 6, outliers: 0 })
  const zero = solution.parameters.find((p: { id: string }) => p.id === 'lowerZero')
  expect(zero.value).toBeCloseTo(-2.4, 0)

  const file = join(folder, 'out.fieldbook.json')
  writeFileSync(file, fieldBook)
  expect(batch('check', file)).toMatch(/^ok.*6 sightings/)
  const { worst, other } = difference(solution, JSON.parse(batch('solve', file, '--now', solution.solvedUtc)))
  expect(other).toEqual([])
  expect(worst).toBeLessThanOrEqual(1e-9)

  await page.reload()
  await goTo(page, 'sight/list')
  await expect(page.getByRole('list', { name: 'Sightings' }).getByRole('button')).toHaveCount(6)
  rmSync(folder, { recursive: true })
})

test('what was said to be kept is there after the browser was killed', async ({ ownServer }) => {
  const profile = mkdtempSync(join(tmpdir(), 'killed-'))
  const launch = () =>
    chromium.launchPersistentContext(profile, {
      ...(process.env.CHROMIUM && { executablePath: process.env.CHROMIUM }),
      args: CHROMIUM_ARGS,
      viewport: { width: 390, height: 844 },
    })
  const first = await launch()
  const page = first.pages()[0] ?? (await first.newPage())
  await page.goto(ownServer.url)
  await untilOffline(page)
  await makeStation(page)
  await goTo(page, 'sight')
  await page.getByRole('radio', { name: 'Sun', exact: true }).check()
  await press(page, 'On target: mark time')
  await expect(page.getByText('Read both axes. The time is kept.')).toBeVisible()
  // No goodbye: the processes that hold this profile are killed.
  const found = spawnSync('pgrep', ['-f', profile], { encoding: 'utf8' })
  for (const pid of found.stdout.trim().split('\n').map(Number)) if (pid > 0) process.kill(pid, 'SIGKILL')
  await first.close().catch(() => {})
  await ownServer.stop()

  const second = await launch()
  const again = second.pages()[0] ?? (await second.newPage())
  await again.goto(`${ownServer.url}#sight`)
  await expect(again.getByText(/^Time marked .*, readings missing/)).toBeVisible()
  await again.goto(`${ownServer.url}#book`)
  await expect(again.getByText('My station').first()).toBeVisible()
  await second.close()
  rmSync(profile, { recursive: true, force: true })
})

/**
 * Driving by hand, from the demo button on with the network off: where the axes stand, the way to go and its seconds, the speed of a
 * jack, the stow position, a landmark by coordinates, a satellite's box.
 */
import { expect, type Page, test, untilOffline } from './rig.ts'
import { box, goTo, openScreen, press, write } from './walk.ts'

/** The demo as a person opens it: its own book, its own hour. */
async function openDemo(page: Page): Promise<void> {
  await press(page, 'Open the demo')
  await expect(page.getByRole('button', { name: 'Open the demo', exact: true })).toHaveCount(0)
}

const way = (page: Page) => page.locator('.sight-live .way')

/** The readings to drive to, as they stand large. */
const driven = async (page: Page): Promise<number[]> =>
  (await page.locator('.sight-live .big-value').allTextContents()).map(Number)

/** To the Sun, which the demo's hour has within reach. */
async function toTheSun(page: Page): Promise<void> {
  await goTo(page, '#sight')
  await page.getByRole('radio', { name: 'Sun' }).check()
  await expect(page.getByText(/^az \d+\.\d°/)).toBeVisible()
}

async function standAt(page: Page, lower: number, upper: number): Promise<void> {
  await openScreen(page, '#sight/axes', 'Where the axes are')
  await write(page, 'tilt, counts', String(lower))
  await write(page, 'swing, counts', String(upper))
  await press(page, 'Keep these positions')
  await expect(page).toHaveURL(/#sight$/)
}

test.describe('with the network off', () => {
  test.use({ serviceWorkers: 'allow' })

  test('the way to go: typed once, in seconds once the speed is measured, from the side wanted, and there; a watch of its own; stow, with the wind', async ({
    page,
  }) => {
    await page.goto('./')
    await untilOffline(page)
    await page.context().setOffline(true)
    await openDemo(page)
    await toTheSun(page)
    await expect(way(page)).toHaveCount(0)
    const [lower, upper] = (await driven(page)) as [number, number]
    await press(page, /Type where the axes are/)
    await write(page, 'tilt, counts', String(lower + 41))
    await expect(page.getByText('Not yet: both readings.')).toBeVisible()
    await write(page, 'swing, counts', String(upper - 90))
    await press(page, 'Keep these positions')
    // To a count: the Sun goes on.
    await expect(way(page).first()).toHaveText(/^down\s4[0-2]\s*$/)
    await expect(way(page).last()).toHaveText(/^up\s(89|9[0-2])\s*$/)

    // A speed, by two readings and the seconds between them.
    await press(page, /The way in seconds.*Measure the speed/)
    await expect(page.getByRole('heading', { level: 1, name: 'Speed of tilt' })).toBeVisible()
    await expect(page.getByText('Nobody near the dish while a jack runs')).toBeVisible()
    await write(page, 'Reading at the start', '1000')
    await write(page, 'Seconds between', '40')
    await expect(page.getByText('Not yet: both readings and the seconds between.')).toBeVisible()
    await write(page, 'Reading at the end', '1060')
    await expect(page.getByText(/^1\.5\scounts a second$/)).toBeVisible()
    await press(page, 'Keep this speed')
    await expect(page.getByRole('button', { name: /Speed of tilt 1\.5\scounts a second/ })).toBeVisible()
    await goTo(page, '#sight')
    await expect(way(page).first()).toHaveText(/^down\s4[0-2] · 2[6-9]\ss$/)
    await expect(way(page).last()).not.toContainText('s')

    // Typed a minute, with what it runs on and the side to arrive from: past it, and back.
    await press(page, /The way in seconds.*Measure the speed/)
    await expect(page.getByRole('heading', { level: 1, name: 'Speed of swing' })).toBeVisible()
    await page.getByRole('radio', { name: 'readings a minute' }).check()
    await write(page, 'Readings a minute', '120')
    await write(page, 'Runs on after you let go', '3')
    await page.getByRole('radio', { name: 'from above: reading going down' }).check()
    await press(page, 'Keep this speed')
    await expect(
      page.getByText(/^Swing up for \d+\ss, let go at \d+\scounts: it runs on to \d+\scounts\.$/),
    ).toBeVisible()
    await expect(page.getByText(/^Then down for \d+\ss, let go at/)).toBeVisible()
    await goTo(page, '#sight')
    await expect(way(page).last()).toHaveText(/^up\s\d+ then down\s\d+ · (\d+\smin\s)?\d+\ss$/)

    // Undone like any other entry.
    await page.getByRole('button', { name: /^Undo: speed of an axis/ }).click()
    await expect(way(page).last()).not.toContainText('then')

    // There: both axes stand where they were to be driven, also after a reload.
    await press(page, 'I am there now')
    await expect(way(page).first()).toHaveText(/^there\s*$/)
    await expect(way(page).last()).toHaveText(/^there\s*$/)
    await page.reload()
    await expect(page.getByText(/^az \d+\.\d°/)).toBeVisible()
    await expect(way(page)).toHaveCount(2)

    // A watch of its own times the run.
    await openScreen(page, '#sight/speed/upper', 'Speed of swing')
    await press(page, 'Start timing')
    await page.waitForTimeout(600)
    await press(page, 'Stop timing')
    await expect(box(page, 'Seconds between')).toHaveValue(/^([1-9]\d*\.\d|0\.[5-9])$/)

    // Stow: set from Mount, with the wind; the way there, and from there on.
    await goTo(page, '#mount/more')
    await press(page, /^Stow position/)
    await expect(page.getByText('No stow position yet')).toBeVisible()
    await press(page, 'Set the stow position')
    await write(page, 'tilt, counts', '900')
    await write(page, 'swing, counts', '410')
    await write(page, 'Wind at which to go there', '40')
    await press(page, 'Keep the stow position')
    await expect(page.getByRole('heading', { level: 1, name: 'Drive to: stow' })).toBeVisible()
    expect(await driven(page)).toEqual([900, 410])
    await expect(page.getByText(/^Go there at 40\skm\/h of wind\.$/)).toBeVisible()
    await expect(page.getByText('Go early: in a wind that lifts the dish, nobody goes near it.')).toBeVisible()
    await standAt(page, 1000, 410)
    await openScreen(page, '#sight/stow', 'Drive to: stow')
    await expect(way(page).first()).toHaveText(/^down\s100 · (1\smin\s)?\d+\ss$/)
    await expect(way(page).last()).toHaveText(/^there\s*$/)
    await press(page, 'I am there now')
    await expect(page.getByRole('button', { name: /The axes are at 900\scounts and 410\scounts/ })).toBeVisible()
    await page.reload()
    await openScreen(page, '#sight/stow', 'Drive to: stow')
    await expect(page.getByText(/^Go there at 40/)).toBeVisible()
  })
})

test('a landmark by its coordinates becomes the target, and a wrong number is told; more about a target; a satellite’s box against the beam', async ({
  page,
}) => {
  await page.goto('./#book')
  await openDemo(page)
  await goTo(page, '#sight/other')
  await page.getByRole('radio', { name: 'Landmark' }).check()
  await press(page, 'By its coordinates')
  await write(page, 'Latitude of the landmark', '98')
  await expect(page.getByText(/98° north is too large/)).toBeVisible()
  // 0.1° north of the demo's site: 11.1 km due north; 1000 m above 415 m is 3.0°, less the Earth's curve.
  await write(page, 'Latitude of the landmark', '48.82')
  await write(page, 'Longitude of the landmark', '13.21')
  await write(page, 'Height of its top', '1000')
  await expect(page.getByText(/^az 0\.00°, el 2\.9\d°, 11\.1\skm$/)).toBeVisible()
  await press(page, 'Drive to this')
  await expect(page.getByRole('heading', { level: 1, name: 'Drive to: Landmark at 0°' })).toBeVisible()
  await expect(page.getByText(/^az 0\.0°, el [23]\.\d°/)).toBeVisible()
  // To the south, where this mount looks, both readings stand there, low as it is.
  await goTo(page, '#sight/landmark')
  await write(page, 'Latitude of the landmark', '48.62')
  await write(page, 'Height of its top', '2800')
  await expect(page.getByText(/^az 180\.00°, el 12\.\d\d°, 11\.1\skm$/)).toBeVisible()
  await press(page, 'Drive to this')
  await expect(page.getByText(/^az 180\.0°, el 12\.\d°/)).toBeVisible()
  expect((await driven(page)).every(Number.isFinite)).toBe(true)

  // More about a target: both readings, hour angle, what is heard; a satellite’s box against the beam.
  await toTheSun(page)
  const [lower] = (await driven(page)) as [number]
  await press(page, 'More about this target')
  await expect(page.getByRole('heading', { name: 'Without corrections' })).toBeVisible()
  const both = (await page.locator('.big-value').allTextContents()).map(Number)
  expect(both).toHaveLength(4)
  expect(Math.abs(both[0]! - lower)).toBeLessThanOrEqual(1)
  expect(Math.abs(both[2]! - both[0]!)).toBeGreaterThan(1) // the demo's mount is not as entered
  await expect(page.getByText('Hour angle')).toBeVisible()
  await expect(page.getByText(/^north\s18\.\d\d°$/)).toBeVisible() // the Sun on 13 May
  await expect(page.getByText(/dB above cold sky \(/)).toBeVisible()

  await goTo(page, '#sight/other')
  await page.getByRole('radio', { name: 'Satellite' }).check()
  await write(page, 'The satellite’s longitude', '13 E')
  await press(page, 'Drive to this')
  await goTo(page, '#sight/target')
  await expect(
    page.getByText(/kept within ±0\.10° .*azimuth ±0\.1\d°, elevation ±0\.1\d°, at most 0\.1\d°/),
  ).toBeVisible()

  await goTo(page, '#sight/other')
  await page.getByRole('radio', { name: 'Radio source' }).check()
  await page.getByRole('radio', { name: 'Cassiopeia A' }).check()
  await press(page, 'Drive to this')
  await goTo(page, '#sight/target')
  await expect(page.getByText(/^0\.\d\d\sdB above cold sky .*\d+\sJy.*too weak to peak on/)).toBeVisible()
})

/** Drift scan and cross scan on an invented station: the Sun of 10 June 2026 through a beam of 5.4°. */
import { bookOf, countedPit } from '../helpers/stations.ts'
import { expect, type Page, test } from './rig.ts'
import { openDemo, openScreen, press, write } from './walk.ts'

const START = '2026-06-10T10:00:00Z'
const book = bookOf(countedPit({ dish: { diameterM: 3, focalRatio: 0.4 } }))

async function begin(page: Page): Promise<void> {
  await openDemo(page, { book, time: START, clock: 'fixed' })
  // The dial has the Moon; a scan is of the Sun all the same, since this dish does not hear the Moon's noise.
  await page.goto('./#sight')
  await expect(page.getByRole('radio', { name: 'Moon' })).toBeChecked()
  await page.goto('./#sight/ways')
}

/** A beam of 5.4° heard in dB: 5 dB over the sky in its middle. */
const heard = (offBeams: number): string => (10 * Math.log10(1 + 2.2 * 2 ** (-4 * offBeams ** 2))).toFixed(2)

/** The page goes out of sight, and comes back at an instant. */
async function away(page: Page, backMs: number): Promise<void> {
  const turn = (state: string) =>
    page.evaluate(s => {
      Object.defineProperty(document, 'visibilityState', { value: s, configurable: true })
      document.dispatchEvent(new Event('visibilitychange'))
    }, state)
  await turn('hidden')
  await page.clock.setFixedTime(new Date(backMs))
  await turn('visible')
}

test('a drift scan outlives a hidden page and a reload, and says when the Sun came', async ({ page }) => {
  await begin(page)
  await press(page, /^Drift scan/)
  await press(page, 'Begin a drift scan')
  const said = (await page.getByText(/^It should peak at/).textContent())!
  const expected = Date.parse(`2026-06-10T${/\d\d:\d\d:\d\d/.exec(said)![0]}Z`)
  await expect(page.getByText('Never look along the beam at the Sun.')).toBeVisible()
  await expect(page.getByText(/^This dish gathers up to 7\.1/)).toBeVisible()
  await expect(page.getByText('Enter what azimuth shows.')).toBeVisible()
  await page.getByRole('button', { name: /^As planned: \d+\.\d°/ }).click()
  await page.getByRole('button', { name: /^As planned: \d+\scounts/ }).click()
  await press(page, 'It is parked: start')

  // 5.4° at 15° an hour, Sun at 23° north: 23.6 minutes. It comes 70 s late.
  const width = 1416e3
  const stampAt = async (ms: number) => {
    await page.clock.setFixedTime(new Date(ms))
    await write(page, 'Signal, dB', heard((ms - expected - 70e3) / width))
    await press(page, 'Keep this reading')
    await expect(page.getByText(new RegExp(`\\sdB at ${new Date(ms).toISOString().slice(11, 19)}.UTC`))).toBeVisible()
  }
  const at = (k: number) => expected + (width * k) / 4
  for (let k = -7; k < -2; k++) await stampAt(at(k))
  await away(page, at(-3) + 240_000)
  await expect(page.getByText(/^The page was away from .*, 4\smin\./)).toBeVisible()
  await page.reload()
  await expect(page.getByText(/\sdB at 1\d:\d\d:\d\d.UTC/)).toBeVisible()
  await stampAt(at(-1.4))
  await page.getByRole('button', { name: /^Undo: signal/ }).click()
  for (let k = -1; k < 6; k++) await stampAt(at(k))

  await press(page, 'See what it says')
  await expect(page.getByText(/^12\sreadings from .*1\sgap without readings\./)).toBeAttached()
  const peak = (await page.getByText(/^Peak at/).textContent())!
  const came = Date.parse(`2026-06-10T${/\d\d:\d\d:\d\d/.exec(peak)![0]}Z`)
  expect(Math.abs(came - expected - 70e3)).toBeLessThan(5_000)
  await expect(page.getByText(/^It came 1\smin\s\d+\ss later than expected/)).toBeVisible()
  await page.getByText('Signal readings', { exact: true }).click()
  await page.getByRole('button', { name: 'Leave out' }).first().click()
  await expect(page.getByRole('button', { name: 'Count it again' })).toBeVisible()
  // As loud as in the beam's centre: it passed right through it, to the tenth of a decibel.
  await expect(page.getByText('± 5.4°', { exact: true })).toBeVisible()
  await page.getByText('Strength in the centre of the beam', { exact: true }).click()
  await write(page, 'Above cold sky by', '5.05')
  await press(page, 'Use it')
  await expect(page.getByText(/^±\s[01]\.\d°$/)).toBeVisible()
  await press(page, 'Make a sighting of it')
  await expect(page.getByText('drift scan', { exact: true })).toBeVisible()
  await expect(page.getByText(/from the scan$/)).toBeVisible()
  await page.goto('./#sight/drift')
  await page.getByRole('list').getByRole('button').click()
  await expect(page.getByRole('button', { name: 'See its sighting', exact: true })).toBeVisible()
  await press(page, 'Delete this scan')
  await expect(page.getByText('No drift scan yet.')).toBeVisible()
  await page.getByRole('button', { name: /^Undo: delete/ }).click()
  await expect(page.getByRole('list').getByRole('button')).toContainText('12')

  // With the Sun below the ground there is nothing to park at, and no reading that looks like it.
  await page.clock.setFixedTime(new Date('2026-06-10T23:30:00Z'))
  await openScreen(page, 'sight/drift/new', 'Drift scan')
  await expect(page.getByText(/no readings to park at/)).toBeVisible()
  await expect(page.getByText('Park the dish here')).toHaveCount(0)
  await expect(page.getByRole('button', { name: /^As planned/ })).toHaveCount(0)
})

test('a receiver’s log with bad lines: each is named, the rest makes a sighting', async ({ page }) => {
  await begin(page)
  await page.goto('./#sight/drift/new')
  await page.getByRole('radio', { name: /From a receiver/ }).check()
  await write(page, 'azimuth, degrees', '162.7')
  await write(page, 'elevation, counts', '651')
  const rows = ['time,level']
  for (let s = -2400; s <= 1800; s += 30)
    rows.push(`${new Date(Date.parse('2026-06-10T10:51:00Z') + 1000 * s).toISOString()},${heard((1000 * s) / 1416e3)}`)
  rows[12] = '2026-06-10T10:16:30Z,three'
  rows[20] = 'noise'
  await page.locator('input[type=file]').setInputFiles({
    name: 'log.csv',
    mimeType: 'text/csv',
    buffer: Buffer.from(rows.join('\n')),
  })
  await expect(
    page.getByText(/^Line 13 is left out: what follows the time is not a number\. It says: .*three/),
  ).toBeVisible()
  await expect(page.getByText(/^Line 21 is left out: there is no reading beside the time/)).toBeVisible()
  await expect(page.getByText(/^139\sreadings found, from 10:11:00 to 11:21:00/)).toBeVisible()
  await press(page, 'Keep these readings')
  await expect(page.getByText(/^Peak at 10:5[01]:\d\d/).first()).toBeVisible()
  await press(page, 'Make a sighting of it')
  await expect(page.getByText('162.7°')).toBeVisible()
})

test('a cross scan from plan to sighting: what to set, level by level, both coordinates', async ({ page }) => {
  await begin(page)
  await press(page, /^Cross scan/)
  await press(page, 'Begin a cross scan')
  await expect(page.getByText(/^Steps of 27\scounts in elevation: 2\.7° on the sky/)).toBeVisible()
  await press(page, 'Begin')
  await expect(page.getByText(/^First drive azimuth back to \d+\.\d°, then come up to:/)).toBeVisible()
  for (let i = 0; i < 10; i++) {
    const axis = i < 5 ? 'azimuth' : 'elevation'
    await expect(page.getByText(`${i + 1} of 10, arriving with the reading going up.`)).toBeVisible()
    await expect(page.getByText(`Set ${axis} to`, { exact: true })).toBeVisible()
    await page.clock.setFixedTime(new Date(Date.parse(START) + 20_000 * (i + 1)))
    // The beam is on the Sun 0.7° before the middle in azimuth, 0.5° after it in elevation.
    await write(page, 'Signal, dB', heard((((i % 5) - 2) * 2.7 + (i < 5 ? 0.7 : -0.5)) / 5.41))
    await press(page, 'Keep this reading')
  }
  await press(page, 'See what it says')
  const said = (await page.getByText(/^The target stood .* of where it was expected/).textContent())!
  const [left, high] = [/([\d.]+)°\sleft/, /([\d.]+)°\shigh/].map(side => Number(side.exec(said)![1]))
  expect(left).toBeCloseTo(0.7, 1)
  expect(high).toBeCloseTo(0.5, 1)
  await press(page, 'Make a sighting of it')
  await expect(page.getByText('cross scan', { exact: true })).toBeVisible()
  await expect(page.getByText(/^61\d(\.\d+)?\scounts/)).toBeVisible()
})

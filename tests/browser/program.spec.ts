/** A tracking program compared: its clock found from the demo, the places kept over a reload, one edited and removed; a station with nothing sighted. */
import AxeBuilder from '@axe-core/playwright'
import { stationFromRecord } from '../../src/core/records/stationintake.ts'
import { apparentPlace } from '../../src/core/sky/targets.ts'
import { bookOf, gravelPit } from '../helpers/stations.ts'
import { expect, type Page, test, untilOffline } from './rig.ts'
import { box, openDemo, openScreen, press, write } from './walk.ts'

const DEG = Math.PI / 180
const PIT = gravelPit()

/** What a program at the pit shows, in tenths, its clock ahead by so much. */
function shown(utc: string, aheadS: number): { az: string; el: string } {
  const { site } = stationFromRecord(PIT)
  const { az, el } = apparentPlace({ type: 'moon' }, Date.parse(utc) + 1000 * aheadS, site, 'radio')
  return { az: (az / DEG).toFixed(1), el: (el / DEG).toFixed(1) }
}

async function typePlace(page: Page, utc: string, aheadS: number): Promise<void> {
  const { az, el } = shown(utc, aheadS)
  await write(page, 'Time, UTC', utc.slice(0, 19).replace('T', ' '))
  await write(page, 'Azimuth it shows', az)
  await write(page, 'Elevation it shows', el)
}

test('nothing sighted: a clock that runs ahead is found from two places, which outlive a reload', async ({ page }) => {
  await openDemo(page, { book: bookOf(PIT), time: '2026-05-01T21:30:00Z' })
  await untilOffline(page)
  await page.context().setOffline(true)
  await openScreen(page, 'correct/software', 'For the software')
  await press(page, 'Compare a program')
  await expect(page.getByText('The time is missing: mark it as you read the program.')).toBeVisible()
  await press(page, 'Read it now: mark the time')
  await expect(box(page, 'Time, UTC')).toHaveValue(/^2026-05-01 21:3/)
  await typePlace(page, '2026-05-01T21:30:00Z', 400)
  await page.getByText('The readings it shows for this mount').click()
  await write(page, 'azimuth, degrees', '120')
  await expect(page.getByText('The reading of elevation is missing: type both, or neither.')).toBeVisible()
  await write(page, 'elevation, degrees', '21')
  await page.reload()
  await expect(box(page, 'Azimuth it shows')).toHaveValue(shown('2026-05-01T21:30:00Z', 400).az)
  await press(page, 'Compare')
  await expect(page.getByText(/^It shows|^It looks like|more than one cause fits/).first()).toBeVisible()
  await expect(page.getByText(/with corrections, .* as entered\./).first()).toBeVisible()

  await press(page, 'Add another place')
  await typePlace(page, '2026-05-01T23:00:00Z', 400)
  await press(page, 'Compare')
  await expect(page.getByText(/It looks like the clock: the program is 6.min [34]\d.s ahead\./)).toBeVisible()
  await expect(page.getByText(/would lose .*dB of own echoes|would miss/)).toBeVisible()
  const { violations } = await new AxeBuilder({ page }).analyze()
  expect(violations.map(v => `${v.id}: ${v.nodes.map(n => n.html).join(' | ')}`)).toEqual([])

  await page.getByRole('button', { name: 'Edit this place' }).first().click()
  await press(page, 'Remove this place')
  await expect(page.getByRole('button', { name: 'Edit this place' })).toHaveCount(1)
})

test('the demo: a program that agrees is said to agree', async ({ page }) => {
  await openDemo(page, { book: bookOf(PIT), time: '2026-05-01T21:30:00Z' })
  await openScreen(page, 'correct', 'Correct')
  await press(page, 'Compare a program')
  await typePlace(page, '2026-05-01T21:30:00Z', 0)
  await press(page, 'Compare')
  await expect(page.getByText('The program agrees with ours.')).toBeVisible()
  await expect(page.getByText(/This rests on one place/)).toBeVisible()
})

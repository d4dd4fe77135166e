/** A tracking program compared: its clock found from the demo, the places kept over a reload, one edited and removed; a station with nothing sighted. */
import { readFileSync } from 'node:fs'
import type { FieldBook, StationRecord } from '../../src/core/records/fieldbook.ts'
import { stationFromRecord } from '../../src/core/records/stationintake.ts'
import { apparentPlace } from '../../src/core/sky/targets.ts'
import { DEG } from '../helpers/degrees.ts'
import { bookOf, gravelPit } from '../helpers/stations.ts'
import { axeFinds } from './looks.ts'
import { expect, type Page, test } from './rig.ts'
import { box, offlineWith, openDemo, openScreen, press, write } from './walk.ts'

const PIT = gravelPit()
const MEADOW: FieldBook = JSON.parse(readFileSync(new URL('./fixtures/meadow.fieldbook.json', import.meta.url), 'utf8'))

/** Types what a program shows for the Moon, or the Sun, at that station, in tenths, by a clock that is ahead. */
async function typePlace(
  page: Page,
  station: StationRecord,
  type: 'moon' | 'sun',
  utc: string,
  aheadS: number,
): Promise<void> {
  const { site } = stationFromRecord(station)
  const { az, el } = apparentPlace({ type }, Date.parse(utc) + 1000 * aheadS, site, 'radio')
  await write(page, 'Time, UTC', utc.slice(0, 19).replace('T', ' '))
  await write(page, 'Azimuth it shows', (az / DEG).toFixed(1))
  await write(page, 'Elevation it shows', (el / DEG).toFixed(1))
}

test.describe('with the network off', () => {
  // Elsewhere it is blocked: it would serve a demo of its own.
  test.use({ serviceWorkers: 'allow' })

  test('nothing sighted: a clock that runs ahead is found from two places, which outlive a reload', async ({
    page,
    context,
    watch,
  }) => {
    await offlineWith({ page, context, watch }, bookOf(PIT), '2026-05-01T21:30:00Z')
    await openScreen(page, 'correct/software', 'For the program')
    await press(page, 'Compare a program')
    await press(page, 'Read it now: mark the time')
    await expect(box(page, 'Time, UTC')).toHaveValue(/^2026-05-01 21:3/)
    await expect(page.getByText('The azimuth is missing.')).toBeVisible()
    await typePlace(page, PIT, 'moon', '2026-05-01T21:30:00Z', 400)
    await page.getByText('Optional: its readings').click()
    await write(page, 'azimuth, degrees', '120')
    await expect(page.getByText('The reading of elevation is missing: type both, or neither.')).toBeVisible()
    await write(page, 'elevation, degrees', '21')
    const was = await box(page, 'Azimuth it shows').inputValue()
    await page.reload()
    await expect(box(page, 'Azimuth it shows')).toHaveValue(was)
    await press(page, 'Compare')
    await expect(page.getByText(/with corrections, .* as entered\./).first()).toBeVisible()

    await press(page, 'Add another place')
    await typePlace(page, PIT, 'moon', '2026-05-01T23:00:00Z', 400)
    await press(page, 'Compare')
    await expect(page.getByText(/It looks like the clock: the program is 6.min.[34]\d.s ahead\./)).toBeVisible()
    await expect(page.getByText(/would lose .*dB of own echoes|would miss/)).toBeVisible()
    expect(await axeFinds(page)).toEqual([])

    await page.getByRole('button', { name: 'Edit this place' }).first().click()
    await press(page, 'Remove this place')
    await expect(page.getByRole('button', { name: 'Edit this place' })).toHaveCount(1)
  })
})

test('the demo: a program that agrees is said to agree, from one place of the Sun', async ({ page }) => {
  const [station] = MEADOW.stations
  await openDemo(page, { time: '2026-11-25T13:00:00Z', at: '#correct' })
  await press(page, 'Compare a program')
  await page.getByRole('radio', { name: 'Sun' }).check()
  await typePlace(page, station!, 'sun', '2026-11-25T13:00:00Z', 0)
  await press(page, 'Compare')
  await expect(page.getByText('The program agrees with ours.')).toBeVisible()
  await expect(page.getByText(/This rests on one place/)).toBeVisible()
})

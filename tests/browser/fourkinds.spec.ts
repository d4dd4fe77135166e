/**
 * The whole job on each kind of mount, with no network: an empty phone, a station on paper, a level by the phone's sensors,
 * sightings of an invented mount that stands otherwise than on paper, and the coefficients out. They are then all that a
 * program knows: the true beam must stay within the tolerance over the Moon's month. By `npm run face`; `npm test` has journey.spec.ts.
 */
import { AXIS_NAMES } from '../../src/core/mount/names.ts'
import type { Axis, MountKind } from '../../src/core/records/fieldbook.ts'
import { BEAM_DEG, DONE_MS, type Journey, journeyOf, missesOverTheMonth, SIGMA_DEG } from '../helpers/fourjourneys.ts'
import { fromText, readings } from '../recipe/program.mjs'
import { expect, type Page, test, untilOffline } from './rig.ts'
import { hands, lay, tilt } from './tilt.ts'
import { typeSightings } from './typedsighting.ts'
import { box, goTo, handedOut, press, write } from './walk.ts'

test.slow()
test.use({ serviceWorkers: 'allow' })

const KINDS: Readonly<Record<MountKind, { name: RegExp; sightings: number }>> = {
  'el-over-az': { name: /^Azimuth and elevation/, sightings: 8 },
  'ha-dec': { name: /^Polar/, sightings: 8 },
  'az-over-el': { name: /^Tilt, then swing/, sightings: 10 },
  'x-y': { name: /^X and Y/, sightings: 8 },
}

const LABELS: Readonly<Record<string, string>> = {
  zeroCounts: 'Counts at axis angle zero',
  countsPerDeg: 'Counts per degree',
  baseArmMm: 'A, fixed arm',
  rodArmMm: 'B, rod arm',
  lengthAtReadingZeroMm: 'L, jack at reading zero',
  countsPerMm: 'Counts of the jack',
  phiAtAngleZeroDeg: 'Angle at the pivot when the axis is at zero',
}
const READOUT_NAMES = {
  degrees: /^Degrees/,
  'linear-counts': /^Counts, evenly/,
  jack: /^Counts of a jack/,
}

async function readout(page: Page, { scene }: Journey, kind: MountKind, axis: Axis): Promise<void> {
  const { readout: r, minReading, maxReading } = scene.record.mount[axis]
  await press(page, new RegExp(`^${axis === 'lower' ? 'Lower' : 'Upper'} axis: ${AXIS_NAMES[kind][axis]}`))
  await page.getByRole('radio', { name: READOUT_NAMES[r.type as keyof typeof READOUT_NAMES] }).check()
  for (const [field, value] of Object.entries(r))
    if (LABELS[field] !== undefined) await write(page, LABELS[field], String(value))
  if (r.type === 'jack')
    await page
      .getByRole('radio', { name: `${AXIS_NAMES[kind][axis]} ${r.direction === 1 ? 'grows' : 'falls'}` })
      .check()
  await write(page, 'Lowest reading', String(minReading))
  await write(page, 'Highest reading', String(maxReading))
  await press(page, 'Done: to the review')
}

async function station(page: Page, kind: MountKind, journey: Journey): Promise<void> {
  const { site, mount } = journey.scene.record
  await press(page, 'Set up my station')
  await write(page, 'Latitude', String(site.latDeg))
  await write(page, 'Longitude', String(site.lonDeg))
  await press(page, 'Next: Mount')
  await page.getByRole('radio', { name: KINDS[kind].name }).check()
  if (mount.headingDeg !== undefined) await write(page, 'Heading', String(mount.headingDeg))
  if (mount.boresightOffsetDeg)
    await write(page, 'Offset of the dish above the swing plane', String(mount.boresightOffsetDeg))
  await press(page, 'Next: Dish')
  await write(page, 'Diameter', '3')
  await page.getByRole('radio', { name: /^1296/ }).check()
  await press(page, 'Done: to the review')
  await readout(page, journey, kind, 'lower')
  await readout(page, journey, kind, 'upper')
  await press(page, 'Keep the station')
  await expect(page.getByRole('button', { name: 'Undo: make My station' })).toBeVisible()
}

/** Level of the lower axis, or three sides of the mast, by the phone's own sensors. */
async function level(page: Page, kind: MountKind, { levelsDeg }: Journey): Promise<void> {
  const mast = kind === 'el-over-az'
  await goTo(page, `mount/measure/${mast ? 'mast-lean' : 'lower-axis-elevation'}`)
  await page.getByRole('button', { name: 'Measure with the phone' }).first().click()
  for (const [k, deg] of levelsDeg.entries()) {
    if (mast) {
      await expect(page.getByRole('heading', { name: `Reading ${k + 1}` })).toBeVisible()
      // The plane of the screen: upright, its back outward.
      await lay(page, 90 + deg, 0)
    } else await tilt(page, deg, 1)
    await expect(page.getByText(/^Still/)).toBeVisible()
    await press(page, 'Take it now')
  }
  await press(page, 'Keep this level')
  await expect(page.getByText('Kept in the book')).toBeVisible()
}

for (const [kind, { name, sightings }] of Object.entries(KINDS) as [MountKind, (typeof KINDS)[MountKind]][])
  test(`from an empty phone to coefficients that hold the Moon: ${name.source.replace('^', '')}`, async ({
    page,
    context,
    ownServer,
    watch,
  }) => {
    const journey = journeyOf(kind, sightings)
    await hands(page)
    await page.clock.install({ time: DONE_MS })
    await page.goto(ownServer.url)
    await untilOffline(page)
    await ownServer.stop()
    await context.setOffline(true)
    watch.expected.push(/ERR_INTERNET_DISCONNECTED|ERR_CONNECTION_REFUSED/)

    await station(page, kind, journey)
    await level(page, kind, journey)
    const reading = (axis: Axis) =>
      `${AXIS_NAMES[kind][axis]}, ${journey.scene.record.mount[axis].readout.type === 'degrees' ? 'degrees' : 'counts'}`
    await typeSightings(
      page,
      journey.sightings.map(s => ({
        target: s.target.type === 'sun' ? 'Sun' : 'Moon',
        utc: s.utc.replace('T', ' ').replace('Z', ''),
        readings: { [reading('lower')]: String(s.lower), [reading('upper')]: String(s.upper) },
        sigmaDeg: SIGMA_DEG,
      })),
    )
    await goTo(page, 'now')
    await expect(page.getByText(new RegExp(`From ${sightings}.sightings`))).toBeVisible()
    const solution = JSON.parse(await handedOut(page, /^The solution/))
    expect(solution.fit).toMatchObject({ used: sightings, outliers: 0 })
    expect(solution.sky.within).toBe(true)

    await goTo(page, 'correct/software/recipe')
    await page.getByText('The text itself').click()
    const text = box(page, 'The text itself')
    await expect(text).not.toHaveValue('')
    const told = fromText(await text.inputValue())
    const misses = missesOverTheMonth(journey.scene, (azDeg, elDeg) => readings(told, azDeg, elDeg))
    expect(misses.length).toBeGreaterThan(50)
    const p95 = misses[Math.floor(0.95 * misses.length)]!
    expect(p95).toBeLessThan(BEAM_DEG * Math.sqrt(0.5 / 24.08))
  })

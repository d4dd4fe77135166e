/** "Measure the dish" and "Noise" on the demo station: tape, words, applied, undone; records, G/T, its trend, the warning. */
import { expect, type Page, test } from './rig.ts'
import { goTo, openDemo } from './walk.ts'

async function demo(page: Page, place: string): Promise<void> {
  await openDemo(page, { time: '2026-11-25T12:00:00Z', clock: 'fixed' })
  await goTo(page, place)
}
const action = (page: Page, name: string) => page.getByRole('button', { name, exact: true })

/** 3 m wide, 450 mm deep; the feed 12 mm to the right from in front, 9 mm toward the UP mark, 5 mm too far out. */
function rim(hour: number): string {
  const turn = (hour * Math.PI) / 6
  return Math.hypot(1500 * Math.sin(turn) - 12, 1500 * Math.cos(turn) - 9, 1255 - 450).toFixed(1)
}

test('a tape says where the feed sits, for the side one stands on; half typed over a reload, applied to the station, undone; with an offset feed it is off, with its reason', async ({
  page,
}) => {
  await demo(page, '#mount/more')
  await page.getByRole('button', { name: /^Measure the dish/ }).click()
  await expect(page.getByText(/puts up to 7\.1\skW of sunlight/)).toBeVisible()
  await page.getByRole('button', { name: /^Diameter and depth/ }).click()
  await page.getByLabel('Depth in the middle', { exact: true }).fill('450')
  await page.reload()
  await expect(page.getByRole('status')).toContainText(/Focal length 1250\s±\s6\smm, f\/D 0\.417/)
  await action(page, 'Apply to the station').click()
  await expect(page.getByText(/^Focal length 1250/)).toBeVisible()

  await page.getByRole('button', { name: /^Rim to feed/ }).click()
  await expect(action(page, 'Apply to the station')).toHaveAttribute('aria-disabled', 'true')
  for (const hour of [12, 3, 6, 9]) await page.getByLabel(`At ${hour} o’clock`, { exact: true }).fill(rim(hour))
  await expect(page.getByText('Say first where you stand.')).toBeVisible()
  await page.getByRole('radio', { name: 'In front of the dish' }).check()
  await expect(page.getByRole('status')).toContainText(/12\.\d\s±\s1\.\d\smm right of the axis/)
  await expect(page.getByRole('status')).toContainText(/toward the UP mark, seen from in front/)
  await page.getByRole('radio', { name: 'Behind the dish' }).check()
  await expect(page.getByRole('status')).toContainText(/right of the axis.*seen from behind/)
  await page.getByRole('radio', { name: 'In front of the dish' }).check()
  await action(page, 'Apply to the station').click()
  const sits = page.getByText(/^The feed sits 12\.\d\s±\s1\.\d\smm right of the axis/).first()
  await expect(page).toHaveURL(/#book\/dish$/) // kept, and gone back
  await expect(sits).toBeVisible()

  // In front right is left from behind: the prior that the solution starts from.
  await page.evaluate(() => {
    location.hash = '#book/edit/demo-heron-meadow/known'
  })
  await expect(page.getByLabel('I measured', { exact: true }).first()).toHaveValue(/^−1[12]\.\d+$/)
  await page.evaluate(() => {
    location.hash = '#book/dish'
  })
  await action(page, 'Undo: measure where 23 cm ring feed sits').click()
  await expect(sits).toBeHidden()
  await action(page, 'Undo: measure diameter and depth').click()
  await expect(page.getByRole('button', { name: /^Diameter and depth Not measured yet/ })).toBeVisible()

  // With an offset feed shadow, rim and feed in millimetres are off, each with its reason and a way on.
  await goTo(page, '#book/edit/demo-heron-meadow/dish')
  await page.getByRole('radio', { name: /^Offset/ }).check()
  await action(page, 'Done: to the review').click()
  await action(page, 'Keep the station').click()
  await expect(page.getByRole('heading', { level: 1, name: 'Book' })).toBeVisible()
  for (const place of ['#sight/noon', '#correct/feed', '#book/dish/rim/a']) {
    await goTo(page, place)
    await expect(page.getByText(/^Off for an offset feed:/)).toBeVisible()
    await expect(action(page, 'Sight the Sun by its signal')).toBeVisible()
  }
  await goTo(page, '#sight/new')
  await page.getByRole('radio', { name: 'Sun', exact: true }).check()
  await expect(page.getByRole('radio', { name: /shadow/ })).toHaveCount(0)
})

test('a noise record gives G/T and the Moon’s warning; one without a flux is asked for it; a drop after a storm shows; a row tells the best place of the feed', async ({
  page,
}) => {
  await demo(page, '#sight')
  await page.getByRole('button', { name: /^Noise/ }).click()
  await expect(page.getByText(/The Moon’s noise is too weak to point by: 0\.0\d\sdB/)).toBeVisible()
  const record = async (when: string, rise: string) => {
    await action(page, 'Record noise').click()
    await page.getByLabel('Above cold sky by', { exact: true }).fill(rise)
    await page.getByLabel(/^Flux at 610/).fill('44')
    await page.getByLabel(/^Flux at 1\s?415/).fill('57')
    await page.getByLabel('When', { exact: true }).fill(when)
    await action(page, 'Keep this record').click()
    await expect(page.getByText(/^G\/T is/)).toBeVisible()
  }
  await action(page, 'Record noise').click()
  await page.getByRole('radio', { name: 'Only 10.7 cm at hand' }).check()
  await expect(page.getByText(/One value at 10\.7\scm does not give/)).toBeVisible()
  await page.getByLabel('Above cold sky by', { exact: true }).fill('9')
  await action(page, 'Keep this record').click()
  await expect(page.getByText(/flux is not known yet: G\/T follows/)).toBeVisible()
  await action(page, 'All noise records').click()
  // Its line says what is missing, and leads to where it is written.
  await page.getByRole('button', { name: /^Sun flux missing: add it/ }).click()
  await expect(page.getByRole('heading', { name: 'Edit a noise record' })).toBeVisible()
  await goTo(page, '#sight/noise')
  await record('2026-11-01 11:00:00', '10,2')
  // 55.5 sfu at 1296 MHz: G/T = (Y − 1) 8πk L/(S λ²), L 1.003, is 10.46 dB/K by hand.
  await expect(page.getByText(/^G\/T is 10\.5\s±\s0\.3\sdB\/K/)).toBeVisible()
  await action(page, 'All noise records').click()
  await record('2026-11-20 11:00:00', '7.9')
  await action(page, 'All noise records').click()
  await expect(page.getByText(/Since 20\sNov\s2026 G\/T through .* is 2\.\d\s±\s0\.\d\sdB lower/)).toBeVisible()
  await expect(page.getByRole('group', { name: 'G/T by the Sun' })).toBeVisible()

  await page.getByRole('button', { name: /^Sun 7\.9/ }).click()
  await action(page, 'Edit it').click()
  await page.getByLabel('Above cold sky by', { exact: true }).fill('10')
  await action(page, 'Keep this record').click()
  await expect(page.getByText(/^G\/T is 10\.\d/)).toBeVisible()
  await action(page, 'Undo: change a noise record').click()
  await expect(page.getByText(/^G\/T is [78]\.\d/)).toBeVisible()
  await action(page, 'Delete it').click()
  await expect(page.getByRole('button', { name: /^Sun 7\.9/ })).toBeHidden()
  await expect(page.getByText(/lower than before/)).toBeHidden()

  // A row against a setting of the feed tells where it is best, is kept with the book, and says when it is not bracketed.
  await goTo(page, '#sight/noise')
  await action(page, 'Find the best place of the feed').click()
  const read = async (k: number, at: string, y: string) => {
    const reading = page.getByRole('region', { name: `Reading ${k}`, exact: true })
    await reading.getByLabel('Setting', { exact: true }).fill(at)
    await reading.getByLabel('Sun above cold sky', { exact: true }).fill(y)
  }
  for (const [k, [at, y]] of [
    ['10', '7.8'],
    ['20', '7.3'],
    ['30', '6.4'],
    ['40', '5.2'],
    ['50', '3.6'],
  ].entries())
    await read(k + 1, at!, y!)
  await expect(page.getByText(/^The best lies outside the row, at smaller/).first()).toBeVisible()
  await read(6, '0', '7.92')
  await read(7, '-10', '7.6')
  await read(8, '-20', '6.9')
  await expect(page.getByText(/^Best at \d\.\d+\s±\s0\.\d+\smm/).first()).toBeVisible()
  await expect(page.getByRole('group', { name: 'Sun above cold sky at each setting, dB' })).toBeVisible()
  await action(page, 'Keep this row').click()
  await page.getByRole('button', { name: /^In and out: best at \d/ }).click()
  // Opened again a reading is one line; tapped, it has its fields.
  const eighth = page.locator('details').filter({ hasText: /^Reading 8, −20/ })
  await eighth.locator('summary').click()
  await expect(eighth.getByLabel('Setting', { exact: true })).toHaveValue('−20')
  await action(page, 'Delete this row').click()
  await expect(page.getByRole('button', { name: /^In and out/ })).toBeHidden()
})

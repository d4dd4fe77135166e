/** the place "Mount" on the demo station: marks, changes, levels by hand. The page's clock stands after the demo's last record. */
import { expect, type Page, test } from './rig.ts'
import { goTo, openDemo, openScreen, press, write } from './walk.ts'

/** The demo station, at the place "Mount". */
async function demoLevel(page: Page): Promise<void> {
  await openDemo(page, { time: '2026-11-25T12:00:00Z', clock: 'fixed' })
  await page.getByRole('link', { name: 'Mount' }).click()
  await expect(page.getByRole('heading', { name: 'Newest first' })).toBeVisible()
}
const action = (page: Page, name: string) => page.getByRole('button', { name, exact: true })

test('a mark that reads 11 counts less is said, leads to a change, and the setup carries its date', async ({
  page,
}) => {
  await demoLevel(page)
  await action(page, 'Read a mark').click()
  await expect(page.getByRole('radio', { name: 'inner stop' })).toBeChecked()
  await expect(page.getByRole('button', { name: 'Keep this reading' })).toHaveAttribute('aria-disabled', 'true')
  await page.getByLabel('Swing reads', { exact: true }).fill('2')
  await expect(page.getByRole('status')).toContainText('Agrees with all 2 readings')
  await page.getByLabel('Swing reads', { exact: true }).fill('-9')
  await expect(page.getByRole('status')).toContainText(
    /swing counter lost 11\s±\s[12](\.\d)?\scounts since 14\sNov\s2026/,
  )
  await page.getByLabel('When', { exact: true }).fill('2026-11-24 09:30:00')
  await action(page, 'Keep this reading').click()
  await expect(page.getByText('Kept in the book')).toBeVisible()
  await expect(page.getByText(/lost 11/)).toBeVisible()

  await action(page, 'Note a change').click()
  await expect(page.getByRole('checkbox', { name: 'The swing counter was reset or slipped' })).toBeChecked()
  await expect(page.getByLabel('When', { exact: true })).toHaveValue('2026-11-24 09:30:00')
  await expect(page.getByText('Starts again: swing zero.')).toBeVisible()
  await expect(page.getByText(/^Stays: heading, level, .*feed\.$/)).toBeVisible()
  await expect(page.getByText(/sightings? after it will be needed/)).toBeVisible()
  await action(page, 'Note this change').click()
  await expect(page.getByText('Kept in the book')).toBeVisible()

  await page.getByRole('button', { name: 'Back to the list' }).click()
  await expect(
    page.getByText(/Setup since 24\sNov\s2026, 09:30\sUTC: The swing counter was reset or slipped/),
  ).toBeVisible()
  await page.reload()
  await expect(page.getByText(/Setup since 24\sNov\s2026, 09:30/)).toBeVisible()
  await expect(page.getByRole('button', { name: /inner stop\W*: swing .9\scounts/ })).toBeVisible()
})

test('a base that was turned about 2° leaves zeros, dish and feed, and its heading is expected 2° on', async ({
  page,
}) => {
  await demoLevel(page)
  await page.evaluate(() => {
    location.hash = '#mount/change/lower-axis/2026-11-20T10:00:00Z'
  })
  await expect(page.getByText('Starts again: heading and level.')).toBeVisible()
  await expect(
    page.getByText('Stays: tilt zero, swing zero, tilt scale, swing jack’s arms, dish on its mount and feed.'),
  ).toBeVisible()
  await expect(page.getByText(/^5\ssightings after it will be needed\.$/)).toBeVisible()
  await expect(page.getByText(/with its jack unpinned or its clamp loose falls/)).toBeVisible()
  await page.getByText('If you know by how much').click()
  await page.getByLabel('By', { exact: true }).first().fill('2')
  await expect(page.getByRole('button', { name: 'Note this change' })).toHaveAttribute('aria-disabled', 'true')
  await page.getByLabel('Uncertainty, ±', { exact: true }).first().fill('0.5')
  const said = page.getByText(/Before: .* Expected after it: /)
  await expect(said).toBeVisible({ timeout: 30_000 })
  const numbers = ((await said.textContent()) ?? '')
    .replaceAll('−', '-')
    .match(/-?\d+(\.\d+)?(?=\s±)/g)!
    .map(Number)
  // Each is rounded to the digits that its own ± supports, a tenth at the worst.
  expect(Math.abs(numbers[1]! - numbers[0]! - 2)).toBeLessThan(0.11)
  await action(page, 'Note this change').click()
  await expect(page.getByText('The setup since')).toBeVisible()
  await expect(page.getByText(/Mount turned clockwise, seen from above: .*±/)).toBeVisible()
})

test('a base turned to “west” and back to “east” starts from what was known in the east', async ({ page }) => {
  await demoLevel(page)
  await goTo(page, '#mount/change/lower-axis/2026-11-20T10:00:00Z')
  await page.getByText('A clamp or stop with a name').click()
  await write(page, 'Name of the position', 'west')
  await write(page, 'Name of the position it was in before', 'east')
  await expect(page.getByText('Starts again: heading and level.')).toBeVisible()
  await press(page, 'Note this change')
  await expect(page.getByText('Kept in the book')).toBeVisible()
  await goTo(page, '#mount/change/lower-axis/2026-11-25T11:00:00Z')
  await page.getByRole('radio', { name: 'west' }).check()
  await page.getByRole('radio', { name: 'east' }).check()
  await expect(page.getByText('Starts from what was known at “\u2068east\u2069”: heading and level.')).toBeVisible()
  await expect(page.getByText('One sighting after it will be needed, to check it.')).toBeVisible()
  await press(page, 'Note this change')
  await expect(page.getByText('Stands at')).toBeVisible()
  await expect(page.getByText(/Starts from what was known at/)).toBeVisible()
  // Known well at once, as it was before: no range of half a circle.
  await openScreen(page, 'correct/known', 'Every number')
  await expect(page.getByText(/Mount turned/)).toBeVisible({ timeout: 30_000 })
  await expect(page.getByText(/180°/)).toHaveCount(0)
})

test('a reversal gives the level and the instrument’s error; a plain end-for-end turn is refused by name; a level is changed, taken out, restored; three readings round the mast; undo, reload', async ({
  page,
}) => {
  await demoLevel(page)
  await action(page, 'Measure a level').click()
  await page.getByRole('button', { name: /Level of the tilt axis/ }).click()
  await page.getByRole('radio', { name: /Two, reversed/ }).check()
  await page.getByRole('radio', { name: /The full circle/ }).check()
  const first = page.getByLabel('First reading', { exact: true })
  const second = page.getByLabel('Second reading, reversed', { exact: true })
  await first.fill('12,4')
  await second.fill('-11,8')
  await expect(page.getByRole('status')).toContainText('the face did not')
  await expect(page.getByRole('button', { name: 'Keep this level' })).toHaveAttribute('aria-disabled', 'true')
  await first.fill('1,1')
  await second.fill('-179,7')
  await expect(page.getByRole('status')).toContainText(/Right-hand end up\s0\.70\s±\s0\.1/)
  await expect(page.getByRole('status')).toContainText('0.4° too much')
  await action(page, 'Keep this level').click()
  await expect(page.getByText('Kept in the book')).toBeVisible()
  await expect(page.getByText('The solution uses it, weighted by its uncertainty.')).toBeVisible()

  await page.getByRole('button', { name: 'Back to the list' }).click()
  const row = page.getByRole('button', { name: /Tilt axis: right-hand end up\s0\.70/ })
  await expect(row).toBeVisible()
  await page.getByRole('button', { name: 'Undo: keep a level' }).click()
  await expect(row).toBeHidden()
  await page.reload()
  await expect(page.getByRole('button', { name: /Tilt axis: right-hand end up\s0\.6/ })).toBeVisible()
  await expect(row).toBeHidden()

  // A level can be changed, taken out and restored.
  await page.getByRole('button', { name: /Tilt axis: right-hand end up\s0\.6/ }).click()
  await page.getByRole('button', { name: 'Edit it' }).click()
  await page.getByLabel('It shows', { exact: true }).fill('−0.9')
  await action(page, 'Keep this level').click()
  await expect(page.getByText(/left-hand end up\s0\.9/)).toBeVisible()
  await page.getByRole('button', { name: 'Delete it' }).click()
  await expect(page.getByRole('heading', { name: 'Newest first' })).toBeVisible()
  await expect(page.getByText(/end up\s0\./)).toBeHidden()
  await page.getByRole('button', { name: /^Undo: delete/ }).click()
  await expect(page.getByText(/left-hand end up\s0\.9/)).toBeVisible()

  // Three readings round the mast tell its lean and where to shim, and that this mount does not use it.
  await goTo(page, '#mount')
  await action(page, 'Measure a level').click()
  await page.getByRole('button', { name: /The mast’s lean/ }).click()
  await expect(page.getByText(/never climb a mast/)).toBeVisible()
  // 1° toward 225°, shown 0.5° too much: 0.5 + cos(h - 225°).
  for (const [n, shown] of [
    [1, '-0.2'],
    [2, '0.2'],
    [3, '1.5'],
  ] as const)
    await page.getByLabel(`Reading ${n}`, { exact: true }).fill(shown)
  await expect(page.getByRole('status')).toContainText(/leans 1\.0.* toward the south-west, 17\.\d\smm per metre/)
  await expect(page.getByRole('status')).toContainText(
    /shim under the south-west side of the foot: 1\.8\smm for every 10\scm/,
  )
  await expect(page.getByText(/The mast is not an axis of this mount/)).toBeVisible()
  await action(page, 'Keep this level').click()
  await expect(page.getByText('Kept in the book')).toBeVisible()
})

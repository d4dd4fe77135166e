/** Will it reach: from an empty phone, without the network, to two mounts beside each other; and from a station's own values. */
import { expect, test, untilOffline } from './rig.ts'
import { box, openDemo, openScreen, press, write } from './walk.ts'

test.describe('with the program on the phone', () => {
  test.use({ serviceWorkers: 'allow' })

  test('from an empty phone, offline, to two mounts and their difference, kept over a reload', async ({
    page,
    context,
  }) => {
    await page.goto('./')
    await untilOffline(page)
    await context.setOffline(true)
    await press(page, 'Before building: will it reach?')
    await press(page, 'Next: the place')
    await write(page, 'Or your locator', 'JN47')
    await expect(box(page, 'Latitude')).toHaveValue('47.500000')
    await press(page, 'Next: the mount')
    await page.getByRole('radio', { name: 'Tilt, then swing' }).check()
    await write(page, 'Highest swing', '30')
    await write(page, 'Lowest swing', '40')
    await expect(page.getByText('The lowest swing must be below the highest.')).toBeVisible()
    await write(page, 'Lowest swing', '−50')
    await press(page, 'Show the hours')
    await expect(page.getByText(/^Hours of the Moon in \d{4}$/)).toBeVisible()
    const hours = Number(await page.locator('.big-value').first().textContent())
    expect(hours).toBeGreaterThan(500)
    await expect(page.getByText('The highest reading of the swing', { exact: true })).toBeVisible()
    await expect(page.getByText('Worst year')).toBeVisible()
    await press(page, 'Compare with another mount')
    await write(page, 'Highest swing', '60')
    await press(page, 'Show the hours')
    await expect(page.getByText(/^B gets \d+.h more, \d+.%\.$/)).toBeVisible()
    const [a, b, more] = (await page.locator('.big-value').allTextContents()).map(Number)
    expect([a, b! - a!]).toEqual([hours, more])
    expect(more).toBeGreaterThan(0)
    await page.reload()
    await expect(page.getByText(/^B gets \d+.h more/)).toBeVisible()
    // Turned over, what was in the west is in the east.
    await press(page, 'Change mount B')
    await press(page, 'The same as mount A again')
    await press(page, 'Turn it over, east for west')
    await expect(box(page, 'Lowest swing')).toHaveValue('−30')
    await expect(box(page, 'Highest swing')).toHaveValue('50')
    await press(page, 'Show the hours')
    await expect(page.getByText(/^B gets \d+.h (more|less)|^Both get the same hours/)).toBeVisible()
    await press(page, 'Leave out mount B')
    await expect(page.getByText(/^Hours of the Moon in/)).toBeVisible()
  })
})

test('begins with the values of the station in use, from the list of the book and from When', async ({ page }) => {
  await openDemo(page, { time: '2026-11-25T13:00:00Z' })
  await press(page, 'Will it reach?')
  await expect(page.getByText('Hours of the Moon in 2026')).toBeVisible()
  await expect(page.getByRole('button', { name: /^Mount Tilt, then swing: tilt 2 to 88°/ })).toBeVisible()
  await openScreen(page, 'when', 'When')
  await press(page, 'Will it reach?')
  await expect(page.getByRole('button', { name: /^Take the values of .*Heron meadow/ })).toBeVisible()
})

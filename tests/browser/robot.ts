/**
 * Hands of a rehearsal's walks: they look at what a person sees and press what a person presses, from the first screen on.
 * It finds the Sun by sweeping, peaks by equal levels either side, and writes down what the counters show.
 */
import { rings } from '../helpers/rings.ts'
import { act, number } from './hands.ts'
import { expect, type Page } from './rig.ts'
import { driving } from './robotdish.ts'
import { box, goTo, pickMethod, press } from './walk.ts'

const sheet = (page: Page) => page.locator('.sheet')

/** @param kind  as its plate says @param hard  likewise */
export async function begin(page: Page, kind: string, hard: string, seed: number): Promise<void> {
  await press(page, 'Rehearse with a dish that does not exist')
  await page.getByRole('radio', { name: kind, exact: true }).check()
  await page.getByRole('radio', { name: new RegExp(`^${hard}`) }).check()
  await box(page, 'Number of the dish').fill(String(seed))
  await press(page, 'Begin the rehearsal')
  await expect(page.getByText('Rehearsal: this dish does not exist.')).toBeVisible()
  await press(page, 'Dish at hand')
}

export const side = (page: Page, name: string): Promise<void> =>
  sheet(page).getByRole('button', { name, exact: true }).click()

/** What both counters show. */
export async function readings(page: Page): Promise<[number, number]> {
  const shown = await sheet(page).locator('.big-value').allTextContents()
  return [number(shown[0]!), number(shown[1]!)]
}

/** Drives there at once; the time that it takes goes by. */
export async function driveTo(page: Page, [lower, upper]: readonly [number, number]): Promise<void> {
  await side(page, 'Drive')
  const fields = sheet(page).getByRole('textbox')
  await fields.nth(0).fill(String(lower))
  await fields.nth(1).fill(String(upper))
  await side(page, 'Drive there')
}

/** The noise level, averaged over ten seconds. */
export async function level(page: Page): Promise<number> {
  const [shown] = await act(
    page,
    { press: 'Receiver', on: 'sheet' },
    { pick: '10 s', on: 'sheet' },
    { read: 'Noise level', on: 'sheet' },
  )
  return number(shown!)
}

/** By quick hands: a peak and a search are some fifty such places. */
const levelAt = async (
  page: Page,
  at: readonly [number, number],
  of: (page: Page) => Promise<number>,
): Promise<number> => {
  await act(page, ...driving(at.map(String)))
  return of(page)
}

/**
 * Peaks about a place: along each axis three readings a step apart, the top of the parabola through them, twice.
 *
 * @param step  about half a beamwidth, in readings of each axis
 */
export async function peak(
  page: Page,
  from: readonly [number, number],
  step: readonly [number, number],
  of: (page: Page) => Promise<number> = level,
): Promise<[number, number]> {
  const at: [number, number] = [...from]
  for (let round = 0; round < 2; round++)
    for (const axis of [0, 1] as const) {
      const there = (k: number): [number, number] => {
        const next: [number, number] = [...at]
        next[axis] += k * step[axis]
        return next
      }
      const [a, b, c] = [
        await levelAt(page, there(-1), of),
        await levelAt(page, at, of),
        await levelAt(page, there(1), of),
      ]
      const bend = a - 2 * b + c
      const by = bend < -0.02 ? (a - c) / (2 * bend) : c > a ? 1 : -1
      at[axis] += Math.max(-1.5, Math.min(1.5, by)) * step[axis]
    }
  await driveTo(page, at)
  return readings(page)
}

/** Where something is heard at all: round and round a place, farther each time. @returns the loudest, or null */
export async function search(
  page: Page,
  from: readonly [number, number],
  step: readonly [number, number],
  of: (page: Page) => Promise<number> = level,
  least = 1,
): Promise<[number, number] | null> {
  const cold = await levelAt(page, [from[0] + 6 * step[0], from[1] + 6 * step[1]], of)
  for (const [i, j] of rings(4)) {
    const at: [number, number] = [from[0] + i * step[0], from[1] + j * step[1]]
    if ((await levelAt(page, at, of)) > cold + least) return at
  }
  return null
}

/** Writes a sighting down: target, time, both readings by a press, the method. @returns whether it was kept */
export async function writeDown(page: Page, target: 'Sun' | 'Moon', sigmaDeg?: number): Promise<void> {
  await goTo(page, '#sight')
  await page.getByRole('radio', { name: target }).check()
  await press(page, 'On target: mark time')
  const fields = page.locator('.pad').getByRole('textbox')
  await side(page, 'Drive')
  for (const k of [0, 1]) {
    await fields.nth(k).click()
    await sheet(page).locator('.sheet-body .seconds').first().getByRole('button').nth(k).click()
  }
  await pickMethod(page, 'strongest signal', /^(Method|strongest signal)/, sigmaDeg)
  await press(page, 'Keep this sighting')
  await expect(page.getByRole('button', { name: 'Keep this sighting' })).toHaveCount(0)
}

/** Where the book thinks that a body stands, dialled; null where it is below or out of reach. */
export async function follow(page: Page, body: 'Sun' | 'Moon'): Promise<[number, number] | null> {
  await side(page, 'Drive')
  const button = sheet(page).getByRole('button', { name: `Drive to the ${body} as computed` })
  // After a leap of the clock the answer is on its way.
  if (
    !(await button.waitFor({ timeout: 6000 }).then(
      () => true,
      () => false,
    ))
  )
    return null
  await button.click()
  return readings(page)
}

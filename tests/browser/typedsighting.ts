/** A sighting typed into the form, time and all. */
import { type Act, act } from './hands.ts'
import { expect, type Page } from './rig.ts'
import { box, goTo, pickMethod, press } from './walk.ts'

/** By quick hands, whatever method is picked so far. @param sigma  as typed, degrees; the method's own where none is given */
export const byStrongestSignal = (sigma?: string): Act[] => [
  { press: '(Method|strongest signal|feed’s shadow|sighting tube).*', on: 'screen' },
  { pick: 'strongest signal', on: 'screen' },
  ...(sigma === undefined ? [] : [{ write: 'Uncertainty, ±', text: sigma, on: 'screen' } as const]),
  { press: 'Back to the readings', on: 'screen' },
]
export const KEPT: readonly Act[] = [
  { press: 'Keep this sighting', on: 'screen' },
  { gone: 'Keep this sighting', on: 'screen' },
]

export interface Typed {
  target: 'Sun' | 'Moon'
  utc: string
  /** By the name of the field, as "azimuth, degrees". */
  readings: Readonly<Record<string, string>>
  sigmaDeg?: number
}

async function typed(page: Page, { target, utc, readings, sigmaDeg }: Typed): Promise<void> {
  await page.getByRole('radio', { name: target, exact: true }).check()
  await pickMethod(page, 'strongest signal', /^Method/, sigmaDeg)
  await box(page, /^Time, UTC/).fill(utc)
  for (const [name, text] of Object.entries(readings)) await box(page, name).fill(text)
  await press(page, 'Keep this sighting')
}

const typedQuickly = (page: Page, { target, utc, readings, sigmaDeg }: Typed): Promise<unknown> =>
  act(
    page,
    { pick: target, on: 'screen' },
    ...byStrongestSignal(sigmaDeg?.toString()),
    { write: 'Time, UTC.*', text: utc, on: 'screen' },
    ...Object.entries(readings).map(([write, text]) => ({ write, text, on: 'screen' }) as const),
    ...KEPT,
  )

/** The first by presses that wait as a finger would, the others by quick hands: a third of a walk. */
export async function typeSightings(page: Page, sightings: readonly Typed[]): Promise<void> {
  for (const [k, sighting] of sightings.entries()) {
    await goTo(page, 'sight/new')
    await (k === 0 ? typed : typedQuickly)(page, sighting)
    await expect(
      page.getByRole('button', { name: new RegExp(`^Undo: sighting of the ${sighting.target}`) }),
    ).toBeVisible()
  }
}

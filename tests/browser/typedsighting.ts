/** A sighting typed into the form, time and all. */
import { act } from './hands.ts'
import { expect, type Page } from './rig.ts'
import { box, goTo, pickMethod, press, write } from './walk.ts'

export interface Typed {
  target: 'Sun' | 'Moon'
  utc: string
  /** By the name of the field, as "azimuth, degrees". */
  readings: Readonly<Record<string, string>>
  sigmaDeg?: number
}

async function typed(page: Page, { target, utc, readings, sigmaDeg }: Typed): Promise<void> {
  await page.getByRole('radio', { name: target, exact: true }).check()
  if (sigmaDeg === undefined) await pickMethod(page, 'strongest signal')
  else {
    await press(page, /^(Method|strongest signal)/)
    await page.getByRole('radio', { name: 'strongest signal' }).check()
    await write(page, 'Uncertainty, ±', String(sigmaDeg))
    await press(page, 'Back to the readings')
  }
  await box(page, /^Time, UTC/).fill(utc)
  for (const [name, text] of Object.entries(readings)) await box(page, name).fill(text)
  await press(page, 'Keep this sighting')
}

async function typedQuickly(page: Page, { target, utc, readings, sigmaDeg }: Typed): Promise<void> {
  const on = 'screen'
  await act(
    page,
    { pick: target, on },
    { press: '(Method|strongest signal).*', on },
    { pick: 'strongest signal', on },
    ...(sigmaDeg === undefined ? [] : [{ write: 'Uncertainty, ±', text: String(sigmaDeg), on } as const]),
    { press: 'Back to the readings', on },
    { write: 'Time, UTC.*', text: utc, on },
    ...Object.entries(readings).map(([write, text]) => ({ write, text, on }) as const),
    { press: 'Keep this sighting', on },
    { gone: 'Keep this sighting', on },
  )
}

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

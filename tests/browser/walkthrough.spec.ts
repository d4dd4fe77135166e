/**
 * The walk-through of a first rehearsal, from the first screen to "within tolerance": reads what it says under the band and does that,
 * with what the dish at hand shows and nothing else. On the dish that a first rehearsal proposes, with its three faults.
 */
import { expect, type Page, test } from './rig.ts'
import { driveTo, follow, level, peak, readings, search, side } from './robot.ts'
import { box, goTo, press } from './walk.ts'

const sheet = (page: Page) => page.locator('#rehearsal')
const lesson = (page: Page) => page.locator('.notice').filter({ hasText: /Walk-through/ })

/** What it says next: once it has looked at the latest records; the same again only when it stays so for a while. */
async function says(page: Page, before: string): Promise<string> {
  for (let k = 0; ; k++) {
    await page.waitForTimeout(250)
    const text = (await lesson(page).textContent({ timeout: 30_000 }))!
    if (text.includes('Looking at your latest records')) {
      if (k > 240) throw new Error('still looking')
    } else if (text !== before || k > 12) return text
  }
}

/** Touches a field of the screen, and fills it in from the sheet. */
async function fill(page: Page, field: string | RegExp, value: string | RegExp): Promise<void> {
  await box(page, field).click()
  await sheet(page).getByRole('button', { name: value }).first().click()
}

/** By the box's own button; led from the step, by the way back to it; else it is there already. */
async function openStep(page: Page): Promise<void> {
  for (const name of [/^Open: /, /^Back to: /]) {
    const button = page.getByRole('button', { name }).and(page.locator('.lesson-buttons button, .align-back button'))
    if ((await button.count()) > 0) return button.first().click()
  }
}

/** From the step's screen to the one that does it. */
const way = (page: Page, name: string | RegExp): Promise<void> =>
  page
    .locator('.place')
    .getByRole('button', { name, exact: typeof name === 'string' })
    .first()
    .click()

async function checkClock(page: Page): Promise<void> {
  await openStep(page)
  await way(page, 'Check the clock')
  await page.getByRole('radio', { name: 'Type the difference' }).check()
  await side(page, 'Time')
  const signal = /says ([\d:]+)\sUTC/.exec((await sheet(page).textContent())!)![1]!
  await expect(page.locator('.screen-utc')).toContainText(signal)
  await box(page, 'The phone is ahead by').fill('0')
  await press(page, 'Keep this check')
}

/** @param place  as the sheet calls it */
async function level2(page: Page, place: string): Promise<void> {
  await page.getByRole('radio', { name: /^Two, reversed/ }).check()
  await side(page, 'Drive')
  for (const field of await page
    .locator('.place')
    .getByRole('textbox', { name: /stands at/ })
    .all()) {
    await field.click()
    const axis =
      (await field.getAttribute('aria-label')) ??
      (await page.locator(`label[for="${await field.getAttribute('id')}"]`).textContent())!
    const name = axis.replace(/ stands at.*/, '').toLowerCase()
    await sheet(page)
      .locator('.sheet-body')
      .getByRole('button', { name: new RegExp(`^${name} `) })
      .first()
      .click()
  }
  await side(page, 'Measure')
  await sheet(page).getByRole('radio', { name: place }).check()
  await fill(page, 'First reading', /^As laid/)
  await fill(page, 'Second reading, reversed', /^Turned end over end/)
  await press(page, 'Keep this level')
  await expect(page.getByRole('button', { name: 'Keep this level' })).toHaveCount(0)
}

async function tapeRim(page: Page): Promise<void> {
  await openStep(page)
  await way(page, 'Tape from the rim')
  await page.getByRole('radio', { name: 'Behind the dish' }).check()
  await page.getByRole('radio', { name: /^Three/ }).check()
  await side(page, 'Measure')
  for (const hour of [12, 4, 8]) await fill(page, `At ${hour} o’clock`, new RegExp(`^${hour} \\d{3,}`))
  await press(page, 'Apply to the station')
}

async function readShadow(page: Page): Promise<void> {
  await follow(page, 'Sun')
  await openStep(page)
  await way(page, 'Noon check: read the shadow')
  await way(page, 'Read the shadow')
  await page.getByRole('radio', { name: 'behind the dish' }).check()
  await page.getByText('Type the millimetres').click()
  await side(page, 'Shadow')
  await sheet(page).getByRole('button', { name: 'Read the shadow' }).click()
  const across = sheet(page).getByRole('button', { name: /^(left|right), mm/ })
  const along = sheet(page).getByRole('button', { name: /^(down|up), mm/ })
  const [beside, above] = [(await across.textContent())!, (await along.textContent())!]
  await page
    .locator('.place')
    .getByRole('radio', { name: /^left/.test(beside) ? 'left' : 'right', exact: true })
    .check()
  await page
    .locator('.place')
    .getByRole('radio', { name: /^down/.test(above) ? 'below' : /^above/ })
    .check()
  await fill(page, 'Shadow beside the vertex', /^(left|right), mm/)
  await fill(page, 'Shadow above or below the vertex', /^(down|up), mm/)
  await side(page, 'Drive')
  for (const axis of ['tilt', 'swing']) await fill(page, `${axis}, degrees`, new RegExp(`^${axis} `))
  await page.locator('.place').getByRole('button', { name: 'Now', exact: true }).click()
  await press(page, 'Keep this shadow')
  await expect(page.getByRole('button', { name: 'Keep this shadow' })).toHaveCount(0)
}

/** The sighting, as the box says it: both readings from the sheet, the method, the uncertainty. */
async function record(page: Page, body: 'Sun' | 'Moon', sigmaDeg: string): Promise<void> {
  await goTo(page, '#sight')
  await page.getByRole('radio', { name: body }).check()
  await press(page, 'On target: mark time')
  await side(page, 'Drive')
  for (const axis of ['tilt', 'swing']) await fill(page, `${axis}, degrees`, new RegExp(`^${axis} `))
  await page.getByRole('button', { name: /^(Method|strongest signal|feed’s shadow)/ }).click()
  await page.getByRole('radio', { name: 'strongest signal' }).check()
  await box(page, 'Uncertainty, ±').fill(sigmaDeg)
  await press(page, 'Back to the readings')
  await press(page, 'Keep this sighting')
  await expect(page.getByRole('button', { name: 'Keep this sighting' })).toHaveCount(0)
}

/** Own echoes over the noise, dB; 0 where none are heard. */
async function echoes(page: Page): Promise<number> {
  await side(page, 'Receiver')
  const ten = sheet(page).getByRole('radio', { name: '10 s' })
  if (!(await ten.isChecked())) await ten.check()
  return Number(/echoes ([\d.]+)\sdB/.exec((await sheet(page).textContent())!)?.[1] ?? 0)
}

test('walked by what it says, it ends within tolerance, and the truth confirms it', async ({ page }) => {
  test.setTimeout(1_200_000)
  page.setDefaultTimeout(60_000)
  // The rehearsal proposes ten o'clock of the next day.
  await page.clock.install({ time: new Date('2026-04-30T20:00:00Z') })
  await page.goto('./')
  await press(page, 'Rehearse with a dish that does not exist')
  await expect(box(page, 'Number of the dish')).toHaveValue('1')
  await press(page, 'Begin the rehearsal')
  const said: string[] = []
  for (let k = 0; k < 90; k++) {
    const text = await says(page, said.at(-1) ?? '')
    said.push(text)
    const body = /Moon/.test(text) ? 'Moon' : 'Sun'
    const meter = body === 'Sun' ? level : echoes
    if (text.includes('Walk-through: the end')) break
    if (text.includes('press “Dish at hand”')) await press(page, 'Dish at hand')
    else if (text.includes('Type the difference')) await checkClock(page)
    else if (text.includes('inclinometer on')) {
      await openStep(page)
      await way(page, 'Measure it with a level')
      await level2(page, /inclinometer on (.+?):/.exec(text)![1]!)
    } else if (text.includes('The dish itself, by level')) {
      const [lower, upper] = /Drive to \D*([−-]?[\d.]+)\D+?([−-]?[\d.]+)/
        .exec(text)!
        .slice(1)
        .map(x => Number(x.replace('−', '-')))
      await driveTo(page, [lower!, upper!])
      await openStep(page)
      await way(page, 'The dish itself, by level')
      await level2(page, 'the dish, along its axis')
    } else if (text.includes('Tape from the rim')) await tapeRim(page)
    else if (text.includes('noon check')) await readShadow(page)
    else if (text.includes('You hear the')) {
      await peak(page, await readings(page), [2.5, 2.5], meter)
      await record(page, body, /uncertainty ±\s([\d.]+)/.exec(text)![1]!)
    } else if (text.includes('as computed')) {
      const from = await follow(page, body)
      expect(from, text).not.toBeNull()
      const found = await search(page, from!, [2.5, 2.5], meter, 3)
      expect(found, text).not.toBeNull()
    } else {
      const moment = /“(An hour on|To the [^”]+)”/.exec(text)![1]!
      await side(page, 'Time')
      await press(page, moment)
    }
  }
  expect(said.at(-1), said.join('\n')).toContain('Walk-through: the end')
  // Every step ticked, and the truth is one press away.
  await expect(lesson(page).getByRole('img')).toHaveAttribute('aria-label', /^(\d+) of \1 steps done$/)
  await press(page, 'See the truth')
  await expect(page.getByText('What the app claimed holds for this dish as it truly is.')).toBeVisible()
  await expect(page.getByText('The app said "within tolerance".')).toBeVisible()
})

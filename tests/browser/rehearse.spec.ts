/**
 * A rehearsal from the first screen to the truth, with the network off: the band, the dish at hand, readings filled in by a press,
 * the clock, the end; and that a real station beside it never sees any of it.
 */
import { worldOf } from '../../src/core/rehearse/world.ts'
import { bookOf, gravelPit } from '../helpers/stations.ts'
import { axeFinds } from './looks.ts'
import { expect, test, unhurried, untilOffline } from './rig.ts'
import { begin, driveTo, follow, peak, readings, search, side, writeDown } from './robot.ts'
import { box, goTo, lookAt, openScreen, press } from './walk.ts'

const BAND = 'Rehearsal: this dish does not exist.'

test.describe('with the network off', () => {
  // Elsewhere it is blocked: the walk would have no parts to load.
  test.use({ serviceWorkers: 'allow' })

  test('a beginner’s dish is driven, heard and written down, and the truth is shown; discarded and undone', async ({
    page,
    context,
    watch,
  }) => {
    await page.goto('./')
    await untilOffline(page)
    await context.setOffline(true)
    watch.expected.push(/ERR_INTERNET_DISCONNECTED/)
    await begin(page, 'Tilt, then swing', 'First time', 3)

    // The buttons drive while they are held, and it runs on a little.
    const hold = page.getByRole('button', { name: 'Drive swing, reading up' })
    const [, before] = await readings(page)
    await hold.dispatchEvent('pointerdown', { pointerId: 1 })
    await expect.poll(async () => (await readings(page))[1]).toBeGreaterThan(before + 1)
    await hold.dispatchEvent('pointerup', { pointerId: 1 })
    await expect(page.locator('.screen-utc')).toContainText('rehearsal')

    // Sun: where the book expects it nothing may be heard; a sweep finds it.
    const sun = (await follow(page, 'Sun'))!
    const found = (await search(page, sun, [3, 3]))!
    expect(found).not.toBeNull()
    await peak(page, found, [2.5, 2.5])
    await writeDown(page, 'Sun')
    for (const screen of ['#now', '#mount', '#correct', '#book', '#sight', '#when']) {
      await goTo(page, screen)
      await expect(page.getByText(BAND)).toBeVisible()
    }

    // Time hurries, and is put forward: the book knows better where the Sun stands.
    await side(page, 'Time')
    await page.getByRole('radio', { name: '600 ×' }).check()
    const before600 = (await page.locator('.screen-utc').textContent())!
    await expect(page.locator('.screen-utc')).not.toContainText(before600.slice(0, 13))
    await page.getByRole('radio', { name: 'Paused' }).check()
    await press(page, 'To the Sun’s noon')
    await follow(page, 'Sun')
    await writeDown(page, 'Sun')
    await side(page, 'Time')
    await press(page, 'Finish: see the truth')
    await expect(page.getByRole('heading', { level: 1, name: 'The truth' })).toBeVisible()
    await expect(page.getByText('Really lost, both ways, at most, in 95 % of the Moon time')).toBeVisible()
    await expect(page.getByText('Number by number: true, and found')).toBeVisible()
    await expect(page.getByText('Readings that were wrong')).toBeVisible()
    expect(await axeFinds(page)).toEqual([])

    // Where the dish stands outlives a reload; the clock waits where it was.
    await driveTo(page, [40, 10])
    const clock = (await page.locator('.screen-utc').textContent())!
    await page.reload()
    await expect(page.getByText(BAND)).toBeVisible()
    await press(page, 'Dish at hand')
    expect(await readings(page)).toEqual([40, 10])
    await expect(page.locator('.screen-utc')).toHaveText(clock)

    // Away with one press, and back by undo.
    await side(page, 'Time')
    await press(page, 'Discard this rehearsal')
    await expect(page.getByText(BAND)).toHaveCount(0)
    await expect(page.locator('.sheet')).toHaveCount(0)
    await goTo(page, '#book')
    await page.getByRole('button', { name: /^Undo/ }).click()
    await expect(page.getByText(BAND)).toBeVisible()
  })
})

test('the shadow, the tape and the inclinometer are read, and values go into the field touched last', async ({
  page,
}) => {
  await page.goto('./')
  await begin(page, 'Azimuth and elevation', 'Ordinary', 11)
  await follow(page, 'Sun')
  await side(page, 'Shadow')
  await expect(page.getByRole('img', { name: 'The feed’s shadow on the face, as seen from behind' })).toBeVisible()
  await side(page, 'Read the shadow')
  await expect(page.getByRole('button', { name: /^(left|right), mm \d+$/ })).toBeVisible()
  await openScreen(page, 'mount/measure/dish-elevation', 'Elevation of the dish')
  await side(page, 'Measure')
  const field = box(page, 'It shows')
  await field.click()
  const laid = page.getByRole('button', { name: /^As laid/ })
  const shows = /[\d.]+/.exec((await laid.textContent())!)![0]
  await laid.click()
  await expect(field).toHaveValue(new RegExp(`-?${shows}`))
  for (const name of ['Drive', 'Receiver', 'Shadow', 'Measure', 'Time']) {
    await side(page, name)
    expect(await axeFinds(page, {}, '#rehearsal')).toEqual([])
  }
})

test('a real station beside it has the phone’s own time, no band, and its file holds nothing of the rehearsal', async ({
  page,
}) => {
  await page.clock.install({ time: new Date('2027-01-15T20:00:00Z') })
  await page.goto('./')
  await lookAt(page, JSON.stringify(bookOf(gravelPit({ name: 'Gravel pit' }))))
  await press(page, /^Import/)
  await goTo(page, '#now')
  await expect(page.getByRole('heading', { level: 1, name: 'Gravel pit' })).toBeVisible()
  await goTo(page, '#book')
  await press(page, 'Rehearse with a dish that does not exist')
  await page.getByRole('radio', { name: /^A copy of mine/ }).check()
  await box(page, 'Number of the dish').fill('5')
  await press(page, 'Begin the rehearsal')
  await expect(page.getByText(BAND)).toBeVisible()
  await expect(page.locator('.screen-utc')).toHaveText(/rehearsal 10:00:0\d\sUTC/)
  await goTo(page, '#book')
  await page.getByRole('radio', { name: /^Gravel pit/ }).check()
  await expect(page.getByText(BAND)).toHaveCount(0)
  await goTo(page, '#now')
  await expect(page.locator('.screen-utc')).toHaveText(/^20:0\d:\d\d\sUTC/)
  await goTo(page, '#book/export')
  await page.getByText('The text itself').click()
  const text = await box(page, 'The text itself').inputValue()
  expect(text).toContain('Gravel pit')
  expect(text).not.toContain('rehearsal')
})

test('an axis is swept with a phone fastened to it, by values pressed in, and the level is kept', async ({ page }) => {
  test.slow()
  await page.goto('./')
  await begin(page, 'Tilt, then swing', 'First time', 3)
  await openScreen(page, 'mount/swing/lower', 'Sweep an axis')
  // This phone is fastened to nothing: the tilts are those of the dish at hand, and typed from the first.
  await expect(page.getByRole('radio', { name: 'By this phone' })).toHaveCount(0)
  const pressed = async (field: string, value: RegExp) => {
    await box(page, field).click()
    await page.locator('#rehearsal').getByRole('button', { name: value }).click()
  }
  for (const tilt of [10, 35, 60, 80]) {
    await driveTo(page, [tilt, 0])
    await pressed('Tilt reads', /^tilt /)
    await side(page, 'Measure')
    await pressed('Long edge, + when its top end is up', /^Long edge/)
    await pressed('Short edge, + when its right side is up', /^Short edge/)
    const faces = /faces (up|down)/.exec((await page.getByText(/^Its screen faces/).textContent())!)![1]!
    await page.locator('.place').getByRole('radio', { name: faces, exact: true }).check()
    await press(page, 'Add this position')
  }
  // Screen and sheet are drawn apart, yet no id of one is the other's, nor a group of choices.
  expect(
    await page.evaluate(() => {
      const ids = [...document.querySelectorAll('[id]')].map(e => e.id)
      const groups = (root: string) =>
        new Set([...document.querySelectorAll<HTMLInputElement>(`${root} input[type=radio]`)].map(e => e.name))
      const [screen, sheet] = [groups('.place'), groups('#rehearsal')]
      return [ids.filter((id, k) => ids.indexOf(id) !== k), [...sheet].filter(name => screen.has(name))]
    }),
  ).toEqual([[], []])
  await expect(page.getByText(/Tilt axis: (right|left)-hand end up/)).toBeVisible()
  await press(page, 'Keep this elevation')
  await expect(page).toHaveURL(/#mount/)
  await expect(page.getByRole('button', { name: 'Keep this elevation' })).toHaveCount(0)
})

test('an adjuster is turned by an amount typed: the dish stands otherwise from then on, and undo turns it back', async ({
  page,
}) => {
  await page.goto('./')
  await begin(page, 'Tilt, then swing', 'First time', 3)
  await openScreen(page, 'correct/bolts/edit/new', 'An adjuster')
  await box(page, 'Name').fill('West screw')
  await page.getByRole('radio', { name: /^Tilt axis, right-hand end/ }).check()
  await page.getByRole('radio', { name: /^Screw/ }).check()
  await box(page, 'Arm').fill('573')
  await box(page, 'Thread: one turn moves it').fill('2')
  await press(page, 'Keep the adjuster')
  const sheet = page.locator('#rehearsal')
  await side(page, 'Measure')
  await sheet.getByRole('radio', { name: 'the tilt axis' }).check()
  const laid = async () =>
    Number(
      /[\d.−]+$/.exec((await sheet.getByRole('button', { name: /^As laid/ }).textContent())!)![0].replace('−', '-'),
    )
  const before = await laid()
  // Five turns of 2 mm at 573 mm: 1°.
  await sheet.getByRole('radio', { name: /^West screw/ }).check()
  await sheet.getByRole('textbox', { name: 'By how much' }).fill('5')
  await sheet.getByRole('button', { name: 'high', exact: true }).click()
  await expect(sheet.getByText(/^Turned\./)).toBeVisible()
  expect(Math.abs((await laid()) - before - 1)).toBeLessThan(0.35)
  expect(await axeFinds(page, {}, '#rehearsal')).toEqual([])
  await goTo(page, '#book')
  await page.getByRole('button', { name: /^Undo: turn an adjuster/ }).click()
  await side(page, 'Measure')
  await sheet.getByRole('radio', { name: 'the tilt axis' }).check()
  expect(Math.abs((await laid()) - before)).toBeLessThan(0.35)
})

test('opened anew it never shows the phone’s time, not even before the rehearsal’s own code is there', async ({
  page,
}) => {
  await page.clock.install({ time: new Date('2027-01-15T20:00:00Z') })
  await page.goto('./')
  await begin(page, 'Tilt, then swing', 'First time', 3)
  await driveTo(page, [40, 10])
  const clock = (await page.locator('.screen-utc').textContent())!
  expect(clock).toMatch(/^rehearsal 10:0\d:\d\d\sUTC/)
  let letGo = () => {}
  const held = new Promise<void>(resolve => {
    letGo = resolve
  })
  await page.route('**/assets/always-*.js', async route => {
    await held
    await route.continue()
  })
  // Every time that the header has shown from the first drawing on.
  await page.addInitScript(() => {
    const seen: string[] = []
    Object.assign(window, { timesSeen: seen })
    const look = () => {
      for (const at of document.querySelectorAll('.screen-utc')) if (at.textContent) seen.push(at.textContent)
    }
    new MutationObserver(look).observe(document, { childList: true, subtree: true, characterData: true })
  })
  await page.reload()
  await expect(page.locator('.screen-utc')).toHaveText(clock)
  await expect(page.getByText(BAND)).toHaveCount(0)
  letGo()
  await expect(page.getByText(BAND)).toBeVisible()
  const seen = await page.evaluate(() => (window as unknown as { timesSeen: string[] }).timesSeen)
  expect(seen.length).toBeGreaterThan(0)
  expect(new Set(seen)).toEqual(new Set([clock]))
})

unhurried('a clock that is off by minutes is found by tapping on the pips of the dish at hand', async ({ page }) => {
  await page.clock.install({ time: new Date('2027-01-15T20:00:00Z') })
  await page.goto('./')
  await begin(page, 'Tilt, then swing', 'Hard', 3)
  await openScreen(page, 'mount/clock', 'Check the clock')
  await side(page, 'Time')
  const sheet = page.locator('#rehearsal')
  await expect(sheet.getByText(/it has pips to tap on/)).toBeVisible()
  await sheet.getByRole('radio', { name: '1 ×', exact: true }).check()
  await expect(page.locator('.sheet-pip')).toBeVisible()
  // In the page: a press from outside it is as late as the machine is busy.
  await page.evaluate(
    taps =>
      new Promise<void>(done => {
        const button = [...document.querySelectorAll('button')].find(b => b.textContent === 'Tap on the pip')!
        let left = taps
        const watch = new MutationObserver(changes => {
          if (!changes.some(c => (c.target as Element).getAttribute('data-lit') === 'true')) return
          button.click()
          if (--left > 0) return
          watch.disconnect()
          done()
        })
        watch.observe(document.querySelector('.sheet-signal')!, { subtree: true, attributeFilter: ['data-lit'] })
      }),
    5,
  )
  // Whole minutes show in no pip: until they are compared the app says so.
  await expect(page.getByText(/not compared yet/)).toBeVisible()
  const seconds = (text: string) => {
    const [h, m, s] = /(\d\d):(\d\d):(\d\d)/.exec(text)!.slice(1).map(Number) as [number, number, number]
    return 3600 * h + 60 * m + s
  }
  // Both displays go from second to second, each a moment late: what they are apart most of the time is what a person sees.
  const pairs = await page.evaluate(
    () =>
      new Promise<[string, string][]>(done => {
        const seen: [string, string][] = []
        const look = () => {
          seen.push([
            document.querySelector('.clock-now')!.textContent!,
            document.querySelector('.sheet-signal')!.textContent!,
          ])
          if (seen.length < 40) setTimeout(look, 50)
          else done(seen)
        }
        look()
      }),
  )
  const apart = pairs.map(([shown, said]) => seconds(shown) - seconds(said)).sort((x, y) => x - y)
  await box(page, 'Whole seconds the phone is ahead').fill(String(apart[apart.length >> 1]))
  await expect(page.getByText(/not compared yet/)).toHaveCount(0)
  await press(page, 'Keep this check')
  const { clockErrorS } = worldOf({
    seed: 3,
    difficulty: 'hard',
    kind: 'az-over-el',
    startUtc: '2027-01-16T10:00:00Z',
  }).faults
  const last = (await page.getByText(/^Compared /).textContent())!
  const [, way, found] = /(ahead|behind) by ([\d.]+)/.exec(last)!
  // The display's seconds are whole: to one of them, and what a press by machine is late.
  expect(Math.abs(Number(found) * (way === 'ahead' ? 1 : -1) - clockErrorS)).toBeLessThan(1.6)
  expect(Math.abs(clockErrorS)).toBeGreaterThan(119)
})

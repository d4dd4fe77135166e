/** The journey as a person goes it, in any engine: what each step presses, types and waits for. */
import assert from 'node:assert/strict'
import type { Browser } from './engine.ts'
import { fieldText, find, goTo, paste, pick, press, type, until, untilSaid } from './hands.ts'

/** From an empty phone to a station that reads azimuth and elevation in degrees. */
export async function makeStation(browser: Browser): Promise<void> {
  await press(browser, 'Set up my station')
  await type(browser, { Latitude: '47 30', Longitude: '9,3', 'Height above sea': '640' })
  await press(browser, /^Next/)
  await pick(browser, /^Azimuth and elevation/)
  await press(browser, /^Next/)
  await type(browser, { Diameter: '3', Frequency: '1296' })
  await press(browser, /^Done/)
  await press(browser, /^Name/)
  await type(browser, { 'Name of the station': 'Top meadow' })
  await press(browser, /^Done/)
  for (const [axis, highest] of [
    [/^Lower axis/, '360'],
    [/^Upper axis/, '90'],
  ] as const) {
    await press(browser, axis)
    await pick(browser, /^Degrees/)
    await type(browser, { 'Lowest reading': '0', 'Highest reading': highest })
    await press(browser, /^Done/)
  }
  await press(browser, 'Keep the station')
  await find(browser, 'button', 'Undo: make Top meadow')
}

export interface Typed {
  utc: string
  lower: string
  upper: string
}

/** Types one in and presses to keep it. */
export async function enterSighting(browser: Browser, s: Typed): Promise<void> {
  await goTo(browser, 'sight/new')
  await pick(browser, 'Sun')
  await press(browser, /^Method/)
  await pick(browser, 'strongest signal')
  await press(browser, 'Back to the readings')
  const field = await find(browser, 'textbox', /^Time, UTC/)
  await field.type(s.utc)
  await type(browser, { 'azimuth, degrees': s.lower, 'elevation, degrees': s.upper })
  await press(browser, 'Keep this sighting')
}

/** The same, until it is kept. */
export async function typeSighting(browser: Browser, s: Typed): Promise<void> {
  await enterSighting(browser, s)
  await find(browser, 'button', /^Undo: sighting of the Sun/)
}

/** Sensor events from a script, the only way here; with the class, where the engine leaves it out on a desk. */
async function tilt(browser: Browser, betaDeg: number): Promise<void> {
  await browser.evaluate(beta => {
    if (!('DeviceOrientationEvent' in globalThis))
      Object.assign(globalThis, { DeviceOrientationEvent: class extends Event {} })
    const event = new Event('deviceorientation')
    dispatchEvent(Object.assign(event, { alpha: 0, beta, gamma: 0 }))
  }, betaDeg)
}

/** As a hand does between two placings: lifted and turned about, until the screen says so. */
async function lift(browser: Browser): Promise<void> {
  let k = 0
  await until(browser, 'sign of moving', async () => {
    await tilt(browser, 40 * Math.sin(k++))
    return browser.evaluate(() => /Moving/.test(document.body.innerText))
  })
}

/** The mast's lean by the phone held to its side, three headings; 1° toward 225°, shown 0.5° too much. */
export async function levelTheMast(browser: Browser): Promise<void> {
  await goTo(browser, 'mount/measure/mast-lean')
  await tilt(browser, 0)
  await press(browser, 'Measure with the phone')
  for (const [n, back] of [
    [1, -0.2],
    [2, 0.2],
    [3, 1.5],
  ] as const) {
    await untilSaid(browser, new RegExp(`Reading ${n}`))
    await lift(browser)
    await tilt(browser, 90 + back)
    await untilSaid(browser, /Still/)
    await press(browser, 'Take it now')
  }
  await untilSaid(browser, /leans\s1\.0.*toward the south-west/)
  await press(browser, 'Keep this level')
  await untilSaid(browser, /Kept in the book/)
}

/** What "Export" makes, as text. */
export async function handedOut(browser: Browser, what: RegExp): Promise<string> {
  await goTo(browser, 'now')
  await goTo(browser, 'book/export')
  await pick(browser, what)
  await press(browser, 'The text itself')
  return until(browser, 'text to hand out', () => fieldText(browser, 'The text itself'))
}

/** Brings a field book in by pasting it. @returns how many records it said */
export async function bringIn(browser: Browser, book: string): Promise<number> {
  await goTo(browser, 'book/import')
  await paste(browser, 'Or paste its text', book)
  await press(browser, 'See what is in it')
  await press(browser, /^Import \d/)
  await untilSaid(browser, /\d+\srecords? imported/)
  return browser.evaluate(() => Number(/(\d+)\srecords? imported/.exec(document.body.innerText)![1]))
}

/** Ids of everything in a field book. */
export function idsIn(book: string): Set<string> {
  const ids = new Set<string>()
  JSON.parse(book, (key, value) => {
    if (key === 'id' && typeof value === 'string') ids.add(value)
    return value
  })
  return ids
}

export function assertNoComplaint(browser: Browser, ...expected: readonly RegExp[]): void {
  assert.deepEqual(
    browser.complaints().filter(text => !expected.some(pattern => pattern.test(text))),
    [],
  )
}

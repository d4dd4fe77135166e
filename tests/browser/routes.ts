/**
 * Every address a person comes to, in one table, and the book that gives each of them something to show. A new screen is
 * one more line here; the face's tests then go there in every theme and window.
 */
import { readFileSync } from 'node:fs'
import { ALIGNMENT_STEPS } from '../../src/core/records/schemas/alignment.ts'
import { expect, type Page } from './rig.ts'
import { type Opening, openDemo } from './walk.ts'

/** Beyond the last record of the demo, so that its solution does not change with the day of the test. */
const NOW = '2026-11-25T13:00:00Z'
export const THEMES = ['daylight', 'dusk', 'night'] as const
export type Theme = (typeof THEMES)[number]

export const ROUTES: readonly string[] = [
  'now',
  'when',
  'when/2026-12',
  'when/day/2026-11-25',
  'when/list',
  'when/export',
  'when/partner',
  'when/polarisation/2026-11-25',
  'align',
  ...ALIGNMENT_STEPS.map(step => `align/${step}`),
  'align/mast/leave',
  'reach',
  'reach/place',
  'reach/sky',
  'reach/a',
  'reach/b',
  'sight',
  'sight/other',
  'sight/target',
  'sight/axes',
  'sight/speed/lower',
  'sight/speed/upper',
  'sight/stow',
  'sight/stow/edit',
  'sight/landmark',
  'sight/half/half-1',
  'sight/half/half-1/method',
  'sight/half/half-1/sides',
  'sight/half/half-1/shadow',
  'sight/ways',
  'sight/waiting',
  'sight/new',
  'sight/readings',
  'sight/list',
  'sight/see/demo-sighting-7',
  'sight/edit/demo-sighting-7',
  'sight/drift',
  'sight/drift/new',
  'sight/drift/run/face-drift',
  'sight/drift/see/face-drift',
  'sight/drift/run/face-taps',
  'sight/cross',
  'sight/cross/new',
  'sight/cross/run/face-cross',
  'sight/cross/see/face-cross',
  'sight/cross/run/face-equal',
  'sight/noon',
  'sight/storm',
  'sight/search',
  'sight/noise',
  'sight/noise/new',
  'sight/noise/see/noise-2',
  'sight/noise/edit/noise-2',
  'sight/noise/row/new',
  'sight/noise/row/row-1',
  'sight/noon/read',
  'sight/noon/said/demo-sighting-17',
  'sight/storm/see/storm-1',
  'mount',
  'mount/measure',
  'mount/measure/lower-axis-elevation',
  'mount/measure/upper-axis-elevation',
  'mount/measure/dish-elevation',
  'mount/measure/mast-lean',
  'mount/mark',
  'mount/change',
  'mount/change/lower-axis',
  'mount/more',
  'mount/swing',
  'mount/counts',
  'mount/heading',
  'mount/sunline',
  'mount/clock',
  'mount/live',
  'mount/instruments',
  'mount/instruments/new',
  'mount/reversal/long',
  'mount/see/level/demo-level-1',
  'mount/see/reference/demo-ref-2',
  'mount/see/change/demo-change-1',
  'mount/edit/level/demo-level-1',
  'mount/edit/reference/demo-ref-2',
  'mount/edit/change/demo-change-1',
  'correct',
  'correct/known',
  'correct/left',
  'correct/left/demo-sighting-7',
  'correct/suspects',
  'correct/sky',
  'correct/ahead',
  'correct/moved',
  'correct/next',
  'correct/bolts',
  'correct/bolts/edit/new',
  'correct/bolts/edit/west%20screw',
  'correct/feed/a',
  'correct/program',
  'correct/report',
  'correct/software',
  'correct/software/page',
  'correct/software/upper',
  'correct/software/budget',
  'correct/software/check',
  'correct/software/recipe',
  'correct/feed',
  'book',
  'book/edit/demo-heron-meadow',
  ...['name', 'place', 'dish', 'feeds', 'mount', 'lower', 'upper', 'allow', 'horizon', 'known'].map(
    step => `book/edit/demo-heron-meadow/${step}`,
  ),
  'book/dish',
  'book/dish/bowl',
  'book/dish/rim/a',
  'book/dish/strings',
  'book/new',
  'book/new/mount',
  'book/new/dish',
  'book/new/over',
  'book/rehearse',
  'book/import',
  'book/codes',
  'book/read',
  'book/export',
  'book/history',
  'book/copies',
  'book/settings',
  'book/sensors',
  'book/ready',
  'book/delete',
]

/** What is read while something else is done: everything that matters at once, without scrolling. */
export const LIVE: readonly string[] = ['now', 'sight']

/** Scans in every state that has a screen of its own: levels with a gap, taps, steps, equal levels. */
function faceScans() {
  const heard = (offBeams: number) => Number((10 * Math.log10(1 + 2.2 * 2 ** (-4 * offBeams ** 2))).toFixed(2))
  const scan = { utc: '2026-11-25T12:00:00Z', target: { type: 'sun' }, feed: 'a', scale: 'dB' }
  const parked = { ...scan, what: 'drift', lower: 18, upper: 900 }
  const cross = { ...scan, what: 'cross' }
  return [
    {
      ...parked,
      id: 'face-drift',
      samples: Array.from({ length: 15 }, (_, k) => ({ s: 200 * k, level: heard((k - 7) / 6.7) })),
      gaps: [{ fromS: 1010, toS: 1190 }],
      expect: { peakUtc: '2026-11-25T12:24:00Z', widthS: 1340 },
    },
    {
      ...parked,
      id: 'face-taps',
      how: 'tapped',
      samples: [],
      marks: (['rising', 'rising', 'peak', 'same'] as const).map((mark, k) => ({ s: 400 * k, mark })),
    },
    {
      ...cross,
      id: 'face-cross',
      samples: Array.from({ length: 8 }, (_, k) => ({
        s: 30 * k,
        axis: k < 5 ? 'lower' : 'upper',
        lower: k < 5 ? 12 + 2.7 * k : 17.4,
        upper: k < 5 ? 880 : 800 + 40 * (k - 5),
        level: heard(((k % 5) - 1.8) / 2),
        from: '+',
      })),
    },
    {
      ...cross,
      id: 'face-equal',
      how: 'tapped',
      samples: [],
      marks: [15, 21].map((lower, k) => ({ s: 30 * k, axis: 'lower', lower, upper: 880, pair: 1 })),
    },
  ]
}

/** The demo, with two halves that wait and belong together, and a counter that slipped. */
export function faceBook(name?: string) {
  const book = JSON.parse(readFileSync(new URL('./fixtures/meadow.fieldbook.json', import.meta.url), 'utf8'))
  const [station] = book.stations
  if (name !== undefined) station.name = name
  station.references[1].reading = 12
  station.adjusters = [
    { id: 'west screw', name: 'West screw', turns: 'level', by: 'screw', armMm: 420, pitchMm: 2, plus: 'clockwise' },
    { id: 'clamp', name: 'Heading clamp', turns: 'heading', by: 'flange', armMm: 110, plus: 'clockwise, from above' },
  ]
  station.stow = { lower: 30, upper: 410, windKmh: 40, note: 'Strap on the west side' }
  station.noise = [10.2, 10.1, 7.9].map((yDb, k) => ({
    id: `noise-${k + 1}`,
    utc: `2026-11-${10 + 5 * k}T11:00:00Z`,
    feed: 'a',
    of: 'sun',
    yDb,
    fluxSfu: 55,
  }))
  station.noise.push({
    id: 'row-1',
    utc: '2026-11-24T11:00:00Z',
    feed: 'a',
    of: 'sun-row',
    setting: 'axial',
    readings: [6.9, 7.6, 7.92, 7.8, 7.3, 6.4].map((yDb, k) => ({ at: 10 * k - 20, yDb })),
  })
  station.dish.measured = {
    utc: '2026-11-09T10:00:00Z',
    rims: [
      {
        utc: '2026-11-09T10:00:00Z',
        feed: 'a',
        seenFrom: 'front',
        distances: [1668, 1690, 1671, 1650].map((mm, k) => ({ clock: [12, 3, 6, 9][k], mm })),
      },
    ],
  }
  station.halfSightings = [
    { id: 'half-1', utc: '2026-11-25T12:10:00Z', time: 'stamped', target: { type: 'sun' }, monotonicMs: 1 },
    { id: 'half-2', utc: '2026-11-25T12:10:12Z', time: 'about', lower: 31.5, upper: 589 },
  ]
  station.checks = [
    {
      id: 'storm-1',
      utc: '2026-11-14T08:40:02Z',
      kind: 'storm',
      feed: 'a',
      peak: 'demo-sighting-16',
      verdict: 'moved',
    },
  ]
  station.scans = faceScans()
  return book
}

declare global {
  /** Questions that the worker has not answered yet. */
  var unanswered: number
}

/** In the page, before the app: counts what the worker still owes. */
function countQuestions(): void {
  globalThis.unanswered = 0
  const Real = Worker
  globalThis.Worker = class extends Real {
    constructor(url: string | URL, options?: WorkerOptions) {
      super(url, options)
      this.addEventListener('message', () => unanswered--)
    }
    override postMessage(message: unknown, ...rest: []): void {
      unanswered++
      super.postMessage(message, ...rest)
    }
  }
}

/** The app with that book as its demo station, in a theme. The page must be without service workers: one would hand out its own. */
export async function openBook(
  page: Page,
  theme: Theme,
  { book = faceBook(), at = '#correct' }: Opening = {},
): Promise<void> {
  await page.addInitScript(countQuestions)
  await page.addInitScript(t => localStorage.setItem('moonplumb.theme', t), theme)
  await openDemo(page, { book, time: NOW, clock: 'fixed', at })
  await expect(page.getByText('Own echoes lose less than')).toBeVisible({ timeout: 30_000 })
}

/** Goes there and waits until it is drawn and everything asked is answered. */
export async function show(page: Page, address: string): Promise<void> {
  await page.evaluate(a => {
    location.hash = a
  }, address)
  await page.evaluate(async () => {
    const turn = () => new Promise(resolve => setTimeout(resolve, 0))
    // What a screen asks it asks within some turns; what it draws of the answer, in the turns after it.
    for (let quiet = 0; quiet < 8; quiet = unanswered > 0 ? 0 : quiet + 1) await turn()
  })
  await expect(page.getByRole('heading', { level: 1 })).toBeVisible()
}

/**
 * Every screen of the program for one field book, rendered to text with no page: its sentences, forms and drawings. The book is
 * brought in as from a file; questions are answered by the core at once, in place of the worker.
 */

import { effect } from '@preact/signals'
import { type ComponentType, h } from 'preact'
import { renderToString } from 'preact-render-to-string'
import * as questions from '../../src/core/questions.ts'
import type { FieldBook } from '../../src/core/records/fieldbook.ts'
import { answerTo, type Question, type Reply } from '../../src/worker/route.ts'
import { bringIn } from './broughtin.ts'

type Doing = Record<string, (...args: unknown[]) => unknown>

/** In place of the worker: answers a moment later. */
class HereAtOnce {
  onmessage: ((event: { data: Reply }) => void) | null = null
  postMessage(asked: Question): void {
    queueMicrotask(() => this.onmessage?.({ data: answerTo(questions as unknown as Doing, asked) }))
  }
  terminate(): void {}
}
const nothing = () => undefined
const listens = { addEventListener: nothing, removeEventListener: nothing }
/** As much of a page as the screens ask for while they are drawn. */
Object.assign(globalThis, {
  Worker: HereAtOnce,
  matchMedia: () => ({ ...listens, matches: false }),
  document: { ...listens, visibilityState: 'visible', hidden: false, baseURI: 'https://book.invalid/' },
})
if (!('navigator' in globalThis)) Object.assign(globalThis, { navigator: { userAgent: '', language: 'en' } })

/** Loaded after the worker is replaced. */
const parts = () =>
  Promise.all([
    import('../../src/state/book.ts'),
    import('../../src/ui/now/NowPlace.tsx'),
    import('../../src/ui/places/SightPlace.tsx'),
    import('../../src/ui/places/MountPlace.tsx'),
    import('../../src/ui/places/CorrectPlace.tsx'),
    import('../../src/ui/places/BookPlace.tsx'),
    import('../../src/ui/places/WhenPlace.tsx'),
    import('../../src/ui/places/ReachPlace.tsx'),
    import('../../src/ui/places/AlignPlace.tsx'),
    import('../../src/core/records/alignment.ts'),
    import('../../src/ui/station/fields.ts'),
    import('../../src/core/records/levelkinds.ts'),
    import('../../src/state/answer.ts'),
    import('../../src/state/sky.ts'),
    import('../../src/state/pointing.ts'),
    import('../../src/state/feed.ts'),
    import('../../src/state/noise.ts'),
    import('../../src/state/carry.ts'),
    import('../../src/state/worth.ts'),
    import('../../src/state/suspicions.ts'),
    import('../../src/state/noon.ts'),
    import('../../src/state/losses.ts'),
    import('../../src/state/coming.ts'),
    import('../../src/state/alignment.ts'),
    import('../../src/state/report.ts'),
    import('../../src/state/moved.ts'),
  ])
let loaded: Awaited<ReturnType<typeof parts>> | null = null

const ids = (list: readonly unknown[] | undefined): string[] =>
  (list ?? []).map(x => (x as { id?: unknown } | null)?.id).filter(id => typeof id === 'string')

/** The addresses of all screens that a station has. */
function addresses(
  station: FieldBook['stations'][number],
  steps: readonly string[],
  kinds: readonly string[],
  alignment: readonly string[],
) {
  const each = (list: readonly unknown[] | undefined, ...before: string[]) => ids(list).map(id => [...before, id])
  return {
    now: [[]],
    when: [
      ...[[], ['2026-12'], ['day', '2026-11-25'], ['day', 'never'], ['list'], ['export'], ['partner']],
      ['polarisation', '2026-11-25'],
    ],
    align: [[], ...alignment.map(step => [step]), ...alignment.map(step => [step, 'leave'])],
    reach: [[], ['place'], ['sky'], ['a'], ['b']],
    sight: [
      ...[[], ['waiting'], ['new'], ['readings'], ['list'], ['other'], ['drift'], ['drift', 'new'], ['cross']],
      ...[['target'], ['axes'], ['speed', 'lower'], ['speed', 'upper'], ['stow'], ['stow', 'edit'], ['landmark']],
      ...[['cross', 'new'], ['noise'], ['noise', 'new'], ['noon'], ['noon', 'read'], ['storm'], ['search']],
      ...each(station.halfSightings, 'half'),
      ...each(station.sightings, 'see'),
      ...each(station.sightings, 'edit'),
      ...each(station.sightings, 'noon', 'said'),
      ...each(station.scans, 'drift', 'see'),
      ...each(station.scans, 'drift', 'run'),
      ...each(station.scans, 'cross', 'see'),
      ...each(station.scans, 'cross', 'run'),
      ...each(station.noise, 'noise', 'see'),
      ...each(station.noise, 'noise', 'edit'),
      ...each(station.checks, 'storm', 'see'),
      ...each(station.checks, 'storm', 'more'),
    ],
    mount: [
      ...[[], ['measure'], ['mark'], ['mark', 'start'], ['change'], ['live'], ['instruments'], ['instruments', 'new']],
      ...[
        ['reversal'],
        ['more'],
        ['swing'],
        ['swing', 'lower'],
        ['swing', 'upper'],
        ['heading'],
        ['sunline'],
        ['clock'],
      ],
      ...[['counts'], ['counts', 'lower'], ['counts', 'upper']],
      ...kinds.map(what => ['measure', what]),
      ...each(station.instruments, 'instruments'),
      ...(['level', 'reference', 'change'] as const).flatMap(kind => [
        ...each(station[`${kind}s`], 'see', kind),
        ...each(station[`${kind}s`], 'edit', kind),
      ]),
      ...each(station.levels, 'swing', 'edit'),
    ],
    correct: [
      ...[
        [],
        ['known'],
        ['left'],
        ['suspects'],
        ['sky'],
        ['ahead'],
        ['moved'],
        ['next'],
        ['feed'],
        ['software'],
        ['software', 'lower'],
      ],
      ['software', 'upper'],
      ...[
        ['software', 'page'],
        ['software', 'budget'],
        ['software', 'check'],
        ['software', 'recipe'],
      ],
      ['program'],
      ['report'],
      ['bolts'],
      ['bolts', 'edit', 'new'],
      ...each(station.adjusters, 'bolts', 'edit'),
      ...each(station.feeds, 'feed'),
    ],
    book: [
      ...[
        [],
        ['new'],
        ['import'],
        ['codes'],
        ['read'],
        ['export'],
        ['export', 'table'],
        ['export', 'solution'],
        ['history'],
        ['copies'],
      ],
      ...[
        ['rehearse'],
        ['rehearse', 'end'],
        ['settings'],
        ['ready'],
        ['sensors'],
        ['delete'],
        ['dish'],
        ['dish', 'bowl'],
        ['dish', 'strings'],
      ],
      ...each(station.feeds, 'dish', 'rim'),
      ...['over', ...steps].map(step => ['edit', station.id, step]),
    ],
  }
}

/** A token that no sentence has: something was not there, or was no number. */
const BROKEN = [/\bNaN\b/, /\bundefined\b/, /\bInfinity\b/, /\[object /, /(^|[\s>"(±−-])null([\s<".,)°%]|$)/] as const

/** A line may not end between a number and its unit, nor after ±. */
const PARTED =
  /\d (%|°|[ckm]?m|k?W|[kM]?B|[GMk]?Hz|dBi?|[µm]?s|min|h|d|K|sfu|hPa|kg|km\/h|UTC|counts?|in(?=[.,;:)]|$))(?![\p{L}\d/])|± \d/mu
const INLINE = /<\/?(?:span|strong|em|b|i|bdi|small|a|tspan)(?: [^>]*)?>/g
/** The words of a screen, a line each part that has lines of its own. */
const wordsOf = (html: string): string => html.replaceAll(INLINE, '').replaceAll(/<[^>]*>/g, '\n')

export interface Wrong {
  address: string
  why: string
}

/** Brings the book in, and renders each screen of its first station. @param only  where those addresses alone are wanted */
export async function everyScreen(
  book: FieldBook,
  only?: readonly string[],
): Promise<{ screens: number; wrong: Wrong[]; said: (address: string) => string }> {
  loaded ??= await parts()
  await (await import('../../src/ui/now/answerviews.ts')).loadAnswer()
  const [{ fieldBook }, now, sight, mount, correct, own, when, reach, align, steps, fields, kinds, ...state] = loaded
  if (fieldBook.status.value.kind === 'loading') await fieldBook.load()
  for (const station of fieldBook.stations.value) await fieldBook.deleteStation(station.id, null)
  const brought = await bringIn(fieldBook, book)
  if (brought === null) return { screens: 0, wrong: [{ address: 'import', why: 'not written' }], said: () => '' }
  const station = book.stations[0]
  fieldBook.chooseStation(station?.id ?? null)

  // What is worked out only while somebody looks at it.
  const stops = state
    .flatMap(module => Object.values(module))
    .filter(x => typeof x === 'object' && x !== null && 'peek' in x && 'value' in x)
    .map(x => effect(() => void (x as { value: unknown }).value))
  await moments()

  const views: Record<string, ComponentType<{ parts: readonly string[] }>> = {
    now: now.NowPlace,
    sight: sight.SightPlace,
    mount: mount.MountPlace,
    correct: correct.CorrectPlace,
    book: own.BookPlace,
    when: when.WhenPlace,
    reach: reach.ReachPlace,
    align: align.AlignPlace,
  }
  const all =
    station === undefined
      ? { now: [[]] }
      : addresses(station, fields.STATION_STEPS, kinds.levelKinds(station.mount.kind), steps.ALIGNMENT_STEPS)
  const text = JSON.stringify(book)
  // A name in the book may well be "NaN".
  const tokens = BROKEN.filter(token => !token.test(text.replaceAll(/"(null|[^"]*":null)/g, '')))
  const wrong: Wrong[] = []
  const drawn = new Map<string, string>()
  let screens = 0
  for (const [place, list] of Object.entries(all))
    for (const parts of list) {
      const address = [place, ...parts].join('/')
      if (only !== undefined && !only.includes(address)) continue
      screens += 1
      try {
        const html = renderToString(h(views[place]!, { parts }))
        drawn.set(address, html)
        for (const token of tokens) {
          const at = html.search(token)
          if (at >= 0) wrong.push({ address, why: `…${html.slice(Math.max(0, at - 60), at + 40)}…` })
        }
        const words = wordsOf(html)
        const at = words.search(PARTED)
        if (at >= 0) wrong.push({ address, why: `parted: …${words.slice(Math.max(0, at - 60), at + 40)}…` })
      } catch (error) {
        wrong.push({
          address,
          why: error instanceof Error ? (error.stack ?? error.message).slice(0, 400) : String(error),
        })
      }
    }
  for (const stop of stops) stop()
  return { screens, wrong, said: address => drawn.get(address) ?? '' }
}

/** Until what was asked is answered: timers of no time, answers, and what follows from them. */
async function moments(): Promise<void> {
  for (let k = 0; k < 20; k += 1) await new Promise(resolve => setTimeout(resolve, 0))
}

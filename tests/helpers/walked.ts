/**
 * Somebody who follows the walk-through of a first rehearsal, presses what it says and fills in what the instruments show: through
 * the core and the state, with the forms' own readings, from an empty book to its last word. Never looks at the truth.
 */
import 'fake-indexeddb/auto'
import { alignment, dial, solve, targets } from '../../src/core/questions.ts'
import type { AlignmentStep } from '../../src/core/records/alignment.ts'
import { checkAt, offsetOf, trueMsAt } from '../../src/core/records/clockchecks.ts'
import type { LevelRecord, SightingRecord, StationRecord } from '../../src/core/records/fieldbook.ts'
import { beamsBeside } from '../../src/core/rehearse/beside.ts'
import { bestPeak, bodySeen, type Lesson, type LessonTask, lessonOf } from '../../src/core/rehearse/lesson.ts'
import type { LevelPlace } from '../../src/core/rehearse/mount.ts'
import { type Outcome, outcomeOf, rowsOfTable } from '../../src/core/rehearse/outcome.ts'
import type { RehearsalSetup } from '../../src/core/rehearse/setup.ts'
import { withDishMeasures } from '../../src/core/tape/measured.ts'
import { createBook, entry, stationEntry } from '../../src/state/book.ts'
import { createNow } from '../../src/state/now.ts'
import { createRehearsal, rehearsalStation } from '../../src/state/rehearse.ts'
import { openStore } from '../../src/store/records.ts'
import { rimForm, rimOf, withRim } from '../../src/ui/dish/form.ts'
import { emptyMeasure, type MeasureForm } from '../../src/ui/level/form.ts'
import { levelFromForm } from '../../src/ui/level/record.ts'
import { laidTexts } from '../../src/ui/rehearse/laid.ts'
import { answered } from './answered.ts'
import { rings } from './rings.ts'
import { bookOf } from './stations.ts'
import { did } from './steps.ts'

const iso = (ms: number): string => new Date(Math.round(ms)).toISOString()

export interface Walked {
  station: StationRecord
  asked: { step: AlignmentStep | null; ask: LessonTask['do']; of: string }[]
  last: Lesson
  outcome: Outcome
  spentHours: number
}

let n = 0

/** @param most  asks after which it gives up */
export async function walked(setup: RehearsalSetup, most = 120): Promise<Walked> {
  let phoneMs = Date.UTC(2027, 0, 15, 20)
  const clock = createNow({
    stamp: () => ({ utcMs: phoneMs, monotonicMs: phoneMs }),
    isVisible: () => true,
    onVisibility: () => () => {},
  })
  const model = createRehearsal({ clockMs: clock.clockMs, putClockAt: clock.putClockAt, every: () => () => {} })
  const store = openStore({ name: `walked-${n}`, app: '0.0.1' })
  const book = createBook(store)
  await book.load()
  const first = rehearsalStation('Rehearsal', setup, `walked-${n++}`)
  await book.keep(did('begin'), [stationEntry(first)])
  book.chooseStation(first.id)
  const station = (): StationRecord => book.station.value!
  model.show(station())
  const world = model.world.value!
  let ids = 0
  const id = (): string => `w${ids++}`
  const shownMs = (): number => clock.clockMs()
  const trueMs = (): number => world.trueMs(shownMs())
  const believed = (): string => iso(trueMsAt(station(), shownMs()))
  const hands = () => model.hands.value!
  const read = () => world.readings(hands(), trueMs())
  const put = async (...drafts: Parameters<typeof book.keep>[1][number][]) => {
    const kept = await book.keep(did('walk'), drafts)
    if (kept.kind !== 'done') throw new Error(JSON.stringify(kept))
    model.show(station())
  }
  const computed = () => {
    const bodies = answered(dial(bookOf(station()), { now: believed(), stepS: 60, count: 2 }))
    return (body: 'sun' | 'moon') => bodies.find(b => b.body === body)!.rows[0]!
  }
  const lesson = (isOpen: boolean): Lesson => {
    const at = computed()
    const aligned = answered(alignment(bookOf(station()), { now: believed() }))
    const seen = (body: 'sun' | 'moon') =>
      bodySeen(station().mount, at(body), beamsBeside(world, hands(), trueMs(), body))
    return lessonOf({
      mount: station().mount,
      steps: aligned.steps,
      sightings: station().sightings,
      dishLevels: (station().levels ?? []).filter(l => l.what === 'dish-elevation').length,
      isOpen,
      hpbwDeg: aligned.beamwidthDeg,
      nowMs: shownMs(),
      lonDeg: station().site.lonDeg,
      seen: { sun: seen('sun'), moon: seen('moon') },
      best: bestPeak(station().mount, answered(solve(bookOf(station()), { now: believed() }))),
    })
  }

  const show = (deg: number): string => deg.toFixed(1)
  const level = async (what: LevelRecord['what'], change: Partial<MeasureForm>) => {
    const form = { ...emptyMeasure(shownMs()), ...change }
    const made = levelFromForm(form, what, station().mount, null, id(), { fresh: 'c', last: null })
    if (made.kind !== 'ready') throw new Error(`${what}: ${made.why}`)
    await put(entry('level', station().id, made.record))
  }
  const reversed = (place: LevelPlace): Promise<void> => {
    const at = read()
    return level(place, {
      how: 'reversal',
      first: laidTexts(world, hands(), trueMs(), place).laid.replace('\u2212', '-'),
      second: laidTexts(world, hands(), trueMs(), place).turned.replace('\u2212', '-'),
      lower: String(at.lower),
      upper: String(at.upper),
    })
  }
  const meter = (body: 'sun' | 'moon'): number => {
    const heard = world.hears(hands(), trueMs(), 10)
    return body === 'sun' ? heard.db : (heard.echoDb ?? 0)
  }
  const at = (lower: number, upper: number, body: 'sun' | 'moon'): number => {
    model.driveTo({ lower, upper })
    return meter(body)
  }
  /** Half a beamwidth of each axis, by what its readout says. */
  const step = world.receiver.hpbwDeg / 2
  const find = (body: 'sun' | 'moon'): boolean => {
    const { lower, upper } = computed()(body)
    const from = [lower!, upper!] as const
    // As quiet as it gets about there: low down the ground is in the beam on one side.
    const corners = [-6, 6].flatMap(i => [-6, 6].map(j => at(from[0] + i * step, from[1] + j * step, body)))
    const cold = Math.min(...corners)
    for (const [i, j] of rings(5)) if (at(from[0] + i * step, from[1] + j * step, body) > cold + 3) return true
    return false
  }
  const peak = (body: 'sun' | 'moon'): void => {
    for (let round = 0; round < 3; round++)
      for (const axis of ['lower', 'upper'] as const) {
        const from = read()
        const there = (k: number): number => {
          const next = { ...from, [axis]: from[axis] + k * step }
          return at(next.lower, next.upper, body)
        }
        const [a, b, c] = [there(-1), there(0), there(1)]
        const bend = a - 2 * b + c
        const by = bend < -0.02 ? Math.max(-1, Math.min(1, (a - c) / (2 * bend))) : a > c ? -1 : 1
        model.driveTo({ ...from, [axis]: from[axis] + by * step })
      }
  }
  const sighting = (more: Pick<SightingRecord, 'target' | 'method'> & Partial<SightingRecord>): Promise<void> => {
    const utc = iso(shownMs())
    const check = checkAt(station(), utc)
    return put(
      entry('sighting', station().id, {
        id: id(),
        utc,
        ...read(),
        ...(check && { clockOffsetS: offsetOf(check) }),
        ...more,
      }),
    )
  }

  const act = async (ask: LessonTask): Promise<void> => {
    switch (ask.do) {
      case 'open':
        return
      case 'clock': {
        // What the signal says against the clock at the top, both to the second.
        const offsetS = Math.floor(shownMs() / 1000) - Math.floor(trueMs() / 1000)
        return put(
          entry('clock-check', station().id, { id: id(), utc: iso(shownMs()), offsetS, sigmaS: 0.5, by: 'typed' }),
        )
      }
      case 'mast':
        return level('mast-lean', {
          around: [0, 120, 240].map(heading => ({
            heading: String(heading),
            reading: show(world.mast(heading, trueMs())),
          })),
        })
      case 'level':
        return reversed(ask.level as LevelPlace)
      case 'dish-level':
        model.driveTo(ask.at)
        return reversed('dish-elevation')
      case 'rim': {
        const form = rimForm(station(), 'a', false)
        const distances = form.distances.map((_, hour) => (hour % 3 === 0 ? world.rim(hour, trueMs()).toFixed(0) : ''))
        const rim = rimOf({ ...form, seenFrom: 'behind', distances }, 'a', iso(shownMs()))
        if (rim.kind !== 'ready') throw new Error(rim.why)
        const next = withDishMeasures(station(), withRim(rim.value, station()), ['a'])
        const fresh = (next.changes ?? []).filter(c => !(station().changes ?? []).includes(c))
        return put(stationEntry(next), ...fresh.map(c => entry('change', next.id, c)))
      }
      case 'shadow': {
        const { lower, upper } = computed()('sun')
        model.driveTo({ lower: lower!, upper: upper! })
        const shadow = world.shadowRead(hands(), trueMs())
        if (shadow === null) throw new Error('no shadow')
        return sighting({ target: { type: 'sun' }, method: 'shadow', shadow })
      }
      case 'find':
        // Not found: an hour on, as the words say.
        if (!find(ask.body)) model.skipTo('hour')
        return
      case 'peak':
        peak(ask.body)
        return sighting({ target: { type: ask.body }, method: 'signal-peak', sigmaDeg: ask.sigmaDeg })
      case 'wait':
        if (!model.skipTo(ask.until)) throw new Error('no such moment')
        return
      default:
        throw new Error(`not walked: ${ask.do}`)
    }
  }

  const asked: Walked['asked'] = []
  let last = lesson(false)
  while (last.ask.do !== 'truth' && asked.length < most) {
    asked.push({ step: last.step, ask: last.ask.do, of: 'body' in last.ask ? last.ask.body : '' })
    phoneMs += 10_000
    await act(last.ask)
    last = lesson(true)
  }
  const now = believed()
  const solution = answered(solve(bookOf(station()), { now }))
  const table = answered(
    targets(bookOf(station()), { now, target: { type: 'moon' }, fromUtc: now, hours: 655, stepS: 7200 }),
  )
  const outcome = outcomeOf(world, station(), solution, rowsOfTable(table), shownMs())
  const spentHours = outcome.spentMs / 3_600_000
  model.show(null)
  // Its channel to other tabs would keep the process alive.
  store.close()
  return { station: station(), asked, last, outcome, spentHours }
}

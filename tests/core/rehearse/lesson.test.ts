/** The walk-through leads through the alignment's own steps, asks for what each still wants, and ends where the solution is within. */
import { describe, expect, it } from 'vitest'
import type { AlignmentStepJson } from '../../../src/core/alignment/json.ts'
import { alignment } from '../../../src/core/questions.ts'
import { type BodySeen, bestPeak, type LessonFacts, lessonOf } from '../../../src/core/rehearse/lesson.ts'
import { worldOf } from '../../../src/core/rehearse/world.ts'
import { answered } from '../../helpers/answered.ts'
import { bookOf } from '../../helpers/stations.ts'

const START = '2026-05-01T10:00:00Z'
const START_MS = Date.UTC(2026, 4, 1, 10)

/** The alignment of a beginner's dish before anything is measured, as the core answers it. */
function stepsOf(kind: 'az-over-el' | 'el-over-az') {
  const { paper } = worldOf({ seed: 3, difficulty: 'beginner', kind, startUtc: START })
  const told = answered(alignment(bookOf({ ...paper, id: 's', name: 'Rehearsal', sightings: [] }), { now: START }))
  return { mount: paper.mount, steps: told.steps }
}
const EMPTY = { 'az-over-el': stepsOf('az-over-el'), 'el-over-az': stepsOf('el-over-az') }

const DONE: Partial<AlignmentStepJson> = { state: { kind: 'done', utc: START }, needs: [] }
const THERE: BodySeen = { isUp: true, isThere: true, isRisen: true, isShining: true, off: 3 }
/** Up and at the end of an axis; risen and low; below the horizon. */
const BEYOND: BodySeen = { ...THERE, isThere: false, isShining: false }
const LOW: BodySeen = { ...BEYOND, isUp: false }
const DOWN: BodySeen = { ...LOW, isRisen: false }
/** With some steps otherwise. */
const facts = (
  change: Partial<Record<AlignmentStepJson['id'], Partial<AlignmentStepJson>>>,
  more: Partial<LessonFacts> = {},
  kind: keyof typeof EMPTY = 'az-over-el',
): LessonFacts => ({
  mount: EMPTY[kind].mount,
  steps: EMPTY[kind].steps.map(s => ({ ...s, ...change[s.id] })),
  sightings: [],
  dishLevels: 0,
  isOpen: true,
  hpbwDeg: 5.4,
  nowMs: START_MS,
  lonDeg: 30, // noon: solar time is two hours on
  seen: { sun: THERE, moon: THERE },
  best: null,
  ...more,
})
const GROUND = { 'site-clock': DONE, mast: DONE, axes: DONE, readouts: DONE, heading: DONE, feed: DONE }
const peak = (type: 'sun' | 'moon', hoursAgo: number) => ({
  utc: new Date(START_MS - 3_600_000 * hoursAgo).toISOString(),
  method: 'signal-peak' as const,
  target: { type },
})

describe('the walk-through', () => {
  it('begins at the dish at hand, and goes through the steps of this mount in their order', () => {
    const first = lessonOf(facts({}, { isOpen: false }))
    expect([first.step, first.ask]).toEqual(['site-clock', { do: 'open' }])
    expect(first.steps.map(s => s.id)).toEqual([
      'site-clock',
      'axes',
      'readouts',
      'heading',
      'feed',
      'search',
      'sightings',
      'solve',
    ])
    expect(lessonOf(facts({}, {}, 'el-over-az')).steps.map(s => s.id)).toContain('mast')
    const asked = (change: Parameters<typeof facts>[0]) => lessonOf(facts(change)).ask
    expect(asked({})).toEqual({ do: 'clock' })
    expect(asked({ 'site-clock': DONE })).toEqual({ do: 'level', level: 'lower-axis-elevation' })
    expect(asked({ 'site-clock': DONE, axes: DONE }).do).toBe('dish-level')
    expect(asked({ ...GROUND, feed: {} })).toEqual({ do: 'rim' })
    const shadow = { ...GROUND, feed: { needs: [{ what: 'shadow' as const, n: 1 }] } }
    expect(asked(shadow)).toEqual({ do: 'shadow' })
    // The Sun up and at the end of an axis moves on in an hour; at noon it may be there again.
    const at = (sun: BodySeen, moon: BodySeen) => lessonOf(facts(shadow, { seen: { sun, moon } })).ask
    expect(at(BEYOND, DOWN)).toEqual({ do: 'wait', until: 'hour', isBeyond: true })
    expect(at(DOWN, DOWN)).toEqual({ do: 'wait', until: 'noon' })
    // A shadow need not be driven past; and where the winter Sun stays low the Moon comes first.
    expect(at({ ...BEYOND, isShining: true }, DOWN)).toEqual({ do: 'shadow' })
    expect(at(LOW, DOWN)).toEqual({ do: 'wait', until: 'moon-up' })
    const morning = { seen: { sun: LOW, moon: DOWN }, lonDeg: 0 }
    expect(lessonOf(facts(shadow, morning)).ask).toEqual({ do: 'wait', until: 'noon' })
    expect(lessonOf(facts({ ...GROUND, search: DONE }, morning)).ask).toEqual({ do: 'wait', until: 'noon' })
    const winter = { ...shadow, search: EMPTY['az-over-el'].steps.find(s => s.id === 'search')! }
    const found = lessonOf(facts(winter, { seen: { sun: LOW, moon: THERE } }))
    expect([found.step, found.ask]).toEqual(['search', { do: 'find', body: 'moon' }])
  })

  it('ticks what was measured, inside or outside; not what is half done, nor what a change has undone', () => {
    const isTaken = (axes: Partial<AlignmentStepJson>) =>
      lessonOf(facts({ axes })).steps.find(s => s.id === 'axes')!.isTaken
    expect(isTaken({})).toBe(false)
    expect(isTaken(DONE)).toBe(true)
    expect(isTaken({ state: { kind: 'off', utc: START }, needs: [] })).toBe(true)
    const value = { of: 'level', level: 'lower-axis-elevation' } as const
    expect(isTaken({ state: { kind: 'needs' }, needs: [{ what: 'finer', value, n: 1 }] })).toBe(true)
    const missing = { what: 'level', level: 'upper-axis-elevation', again: false, n: 1 } as const
    expect(isTaken({ state: { kind: 'needs' }, needs: [missing] })).toBe(false)
    expect(isTaken({ state: { kind: 'undone', by: { kind: 'age' }, was: START } })).toBe(false)
  })

  it('leaves to the sightings what two levels on the dish have not told of the readouts', () => {
    const { readouts: _, ...ground } = GROUND
    const at = (dishLevels: number) => lessonOf(facts(ground, { dishLevels })).step
    expect([0, 1, 2].map(at)).toEqual(['readouts', 'readouts', 'search'])
  })

  it('goes by the search where nothing gives a heading but the Sun, and comes back to it', () => {
    const { heading: _, ...ground } = GROUND
    const open = { state: { kind: 'not-begun' }, needs: [{ what: 'heading', n: 1 }] } as const
    const before = facts({ ...ground, heading: { ...open, needs: [...open.needs] } }, {}, 'el-over-az')
    expect(lessonOf(before).step).toBe('search')
    expect(lessonOf({ ...before, sightings: [peak('sun', 3)] }).step).toBe('heading')
  })

  it('searches by the Sun alone; then takes the body with fewer sightings, and waits until the sky has turned', () => {
    const at = (more: Partial<LessonFacts>, change: Parameters<typeof facts>[0] = {}) =>
      lessonOf(facts({ ...GROUND, ...change }, more)).ask
    expect(at({})).toEqual({ do: 'find', body: 'sun' })
    expect(at({ seen: { sun: { ...THERE, off: 0.5 }, moon: THERE } })).toEqual({
      do: 'peak',
      body: 'sun',
      sigmaDeg: 0.2,
    })
    const found = { search: DONE }
    expect(at({ sightings: [peak('sun', 3)] }, found)).toEqual({ do: 'find', body: 'moon' })
    expect(at({ sightings: [peak('sun', 3), peak('moon', 1)] }, found)).toEqual({ do: 'find', body: 'sun' })
    expect(at({ sightings: [peak('sun', 1), peak('moon', 1)] }, found)).toEqual({ do: 'wait', until: 'hour' })
    expect(at({ seen: { sun: DOWN, moon: DOWN } }, found)).toEqual({ do: 'wait', until: 'moon-up' })
    // Risen, and not yet within reach.
    expect(at({ seen: { sun: DOWN, moon: BEYOND } }, found)).toEqual({ do: 'wait', until: 'hour', isBeyond: true })
    expect(at({ seen: { sun: DOWN, moon: DOWN } })).toEqual({ do: 'wait', until: 'noon' })
  })

  it('asks for an answer where something looks wrong, and ends where the solution is within', () => {
    const sighted = { ...GROUND, search: DONE, sightings: DONE }
    const verdict = (
      whyNot: { kind: 'suspect'; suspect: 'wrong-body' } | { kind: 'loss' },
      best: LessonFacts['best'] = null,
    ) => {
      const needs = [{ what: 'verdict' as const, whyNot, n: null }]
      return lessonOf(facts({ ...sighted, solve: { state: { kind: 'needs' }, needs } }, { best }))
    }
    expect(verdict({ kind: 'suspect', suspect: 'wrong-body' }).ask).toEqual({ do: 'suspect' })
    expect(verdict({ kind: 'loss' }).ask.do).toBe('find')
    // What brings most is waited for.
    const best = (hours: number) => ({ body: 'moon' as const, utcMs: START_MS + 3_600_000 * hours })
    expect(verdict({ kind: 'loss' }, best(5)).ask).toEqual({ do: 'wait', until: 'hour', best: best(5) })
    expect(verdict({ kind: 'loss' }, best(50)).ask).toMatchObject({ until: 'tomorrow' })
    expect(verdict({ kind: 'loss' }, best(0.2)).ask).toEqual({ do: 'find', body: 'moon' })
    const end = lessonOf(facts({ ...sighted, solve: DONE }))
    expect([end.step, end.ask]).toEqual([null, { do: 'truth' }])
    expect(end.steps.every(s => s.isTaken)).toBe(true)
  })

  it('takes of the peaks that bring most the first that can be had: not low, not at the end of an axis, not by shadow', () => {
    const { mount } = EMPTY['az-over-el']
    const { minReading, maxReading } = mount.lower
    const middle = (mount.upper.minReading + mount.upper.maxReading) / 2
    const next = (hours: number, more: object) => ({
      target: 'moon' as const,
      method: 'signal-peak' as const,
      utc: new Date(START_MS + 3_600_000 * hours).toISOString(),
      azDeg: 180,
      elDeg: 30,
      lower: (minReading + maxReading) / 2,
      upper: middle,
      rmsAfterDeg: 0.1,
      ...more,
    })
    const poor = [
      next(1, { elDeg: 12 }),
      next(2, { lower: maxReading - 0.05 * (maxReading - minReading) }),
      next(3, { upper: mount.upper.minReading }),
      next(4, { method: 'shadow', target: 'sun' }),
    ]
    expect(bestPeak(mount, { next: [...poor, next(5, {})] })).toEqual({ body: 'moon', utcMs: START_MS + 5 * 3_600_000 })
    expect(bestPeak(mount, { next: poor })).toBeNull()
    expect(bestPeak(mount, null)).toBeNull()
  })
})

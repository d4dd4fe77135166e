import { describe, expect, it } from 'vitest'
import type { StationRecord } from '../../../src/core/records/fieldbook.ts'
import type { EqualMark } from '../../../src/core/records/scans.ts'
import type { CrossPlanJson, DriftPlanJson } from '../../../src/state/scanasks.ts'
import {
  centreOf,
  crossFromForm,
  crossSample,
  crossSteps,
  crossWish,
  driftFromForm,
  emptyCross,
  emptyDrift,
  equalMark,
  lackingAxis,
  logOf,
  openPair,
  pairsOn,
  pastedFromForm,
  secondsFrom,
  settingFor,
} from '../../../src/ui/scan/form.ts'
import { smallBook } from '../../helpers/smallbook.ts'

const station = (): StationRecord => smallBook().stations[0]
const SUN = { type: 'sun' } as const
const T = Date.UTC(2026, 4, 1, 10, 0, 0)
const form = () => ({ ...emptyDrift('a', '2026-05-01 10:00:00'), lower: '300', upper: '210' })
const plan = { lower: 300, upper: 211, peakUtc: '2026-05-01T10:30:00Z', widthS: 1400 } as DriftPlanJson

describe('a drift scan', () => {
  it('asks for both readings, the lower first', () => {
    const of = (change: object) => driftFromForm({ ...form(), ...change }, station(), SUN, plan, 'd', T)
    expect(of({ lower: '' })).toEqual({ kind: 'not-yet', why: 'lower' })
    expect(of({ upper: '2 1' })).toEqual({ kind: 'not-yet', why: 'upper' })
  })

  it('keeps what was expected only where it is parked as planned, to a step of what the axis shows', () => {
    const made = driftFromForm(form(), station(), SUN, plan, 'd', T)
    expect(made).toMatchObject({
      kind: 'ready',
      record: { utc: '2026-05-01T10:00:00Z', lower: 300, upper: 210, samples: [], expect: { widthS: 1400 } },
    })
    const off = driftFromForm({ ...form(), upper: '214' }, station(), SUN, plan, 'd', T)
    expect(off.kind === 'ready' && off.record.expect).toBeUndefined()
  })

  it('carries the clock check that still counts, and the sides of arrival', () => {
    const checks = [{ id: 'c', utc: '2026-05-01T09:00:00Z', offsetS: 1.5, sigmaS: 0.1, by: 'typed' }]
    const own = { ...station(), clockChecks: checks }
    const made = driftFromForm({ ...form(), lowerSide: '+' }, own, SUN, null, 'd', T)
    expect(made).toMatchObject({ record: { clockOffsetS: 1.5, arrivedFrom: { lower: '+' } } })
  })

  it('from a log begins with its first level, and counts seconds from there', () => {
    const pasted = { ...form(), how: 'pasted' as const, text: '5,1.0\n15,x\n25,1.2' }
    const made = pastedFromForm(pasted, station(), SUN, 'd')
    expect(made).toMatchObject({
      kind: 'ready',
      record: {
        scan: { utc: '2026-05-01T10:00:05Z', how: 'pasted' },
        samples: [
          { s: 0, level: 1 },
          { s: 20, level: 1.2 },
        ],
      },
    })
    expect(logOf(pasted)).toMatchObject({ bad: [{ line: 2, text: '15,x', why: 'no-level' }] })
    expect(pastedFromForm({ ...pasted, text: 'x,y' }, station(), SUN, 'd')).toEqual({
      kind: 'not-yet',
      why: 'no-levels',
    })
    expect(pastedFromForm(pasted, station(), SUN, 'd', () => null)).toEqual({ kind: 'not-yet', why: 'reading' })
    expect(pastedFromForm({ ...pasted, text: ' ' }, station(), SUN, 'd')).toEqual({ kind: 'not-yet', why: 'text' })
    expect(pastedFromForm({ ...pasted, start: 'noon' }, station(), SUN, 'd')).toEqual({ kind: 'not-yet', why: 'start' })
  })
})

describe('crossSteps', () => {
  it('goes through an axis from one side, then from the other where that is wished, then through the next axis', () => {
    const wish = crossWish({ ...emptyCross('a'), both: 'both' })
    const steps = crossSteps(wish)
    expect(steps.length).toBe(20)
    expect(steps.map(s => `${s.axis}${s.from}`).filter((s, i, all) => s !== all[i - 1])).toEqual([
      'lower+',
      'lower-',
      'upper+',
      'upper-',
    ])
    expect(steps.slice(0, 6).map(s => s.k)).toEqual([0, 1, 2, 3, 4, 0])
  })
  it('leaves out an axis of no use', () => {
    expect(crossWish(emptyCross('a'), ['lower']).axes).toEqual(['upper'])
  })
})

describe('settingFor', () => {
  const point = (lower: number, upper: number) => ({
    axis: 'lower' as const,
    index: 0,
    utc: '',
    lower,
    upper,
    inside: true,
    offsetDeg: 0,
  })
  const crossPlan: CrossPlanJson = {
    points: [point(100, 200), point(110, 201), point(120, 209)],
    approach: [{ axis: 'lower', lower: 90, upper: 200 }],
    from: '+',
    stepDeg: 2.7,
    stepReading: { lower: 10, upper: 12 },
    useless: [],
    expectedWidthDeg: 5.4,
  }
  const step = (k: number) => ({ axis: 'lower' as const, from: '+' as const, k })
  const last = { s: 0, axis: 'lower' as const, lower: 100, upper: 200, level: 1 }
  it('drives back before the first reading of an arm, and sets the other axis', () => {
    expect(settingFor(crossPlan, step(0), null)).toEqual({
      lower: 100,
      upper: 200,
      inside: true,
      holds: false,
      approach: 90,
    })
  })
  it('leaves the other axis alone until the target has run half a step away from it', () => {
    expect(settingFor(crossPlan, step(1), last)).toMatchObject({ lower: 110, upper: 200, holds: true, approach: null })
    expect(settingFor(crossPlan, step(2), last)).toMatchObject({ lower: 120, upper: 209, holds: false })
  })
  it('has nothing to say of a step that the plan leaves out', () => {
    expect(settingFor({ ...crossPlan, points: [] }, step(0), null)).toBeNull()
  })
})

describe('crossSample', () => {
  const scan = crossFromForm(emptyCross('a'), station(), SUN, crossWish(emptyCross('a')), 'x', T)
  const setting = { lower: 300, upper: 210, inside: true, holds: true, approach: null }
  const step = { axis: 'upper' as const, from: '-' as const, k: 1 }
  const typed = { at: 0, level: '−3,5', lower: '', upper: '' }
  it('takes readings as set, or as the dish shows where that was typed', () => {
    expect(crossSample(typed, scan, station().mount, step, setting, T + 30_500)).toEqual({
      s: 30.5,
      axis: 'upper',
      lower: 300,
      upper: 210,
      level: -3.5,
      from: '-',
    })
    expect(crossSample({ ...typed, upper: '211' }, scan, station().mount, step, setting, T)?.upper).toBe(211)
    expect(crossSample({ ...typed, upper: 'x' }, scan, station().mount, step, setting, T)).toBeNull()
    expect(crossSample({ ...typed, level: '' }, scan, station().mount, step, setting, T)).toBeNull()
  })
})

describe('centreOf', () => {
  it('takes a rise with 0.1 dB where nothing is said, and nothing that cannot be read', () => {
    expect(centreOf({ rise: '5,1', sigma: '' })).toEqual({ riseDb: 5.1, sigmaDb: 0.1 })
    expect(centreOf({ rise: '5.1', sigma: '0.3' })).toEqual({ riseDb: 5.1, sigmaDb: 0.3 })
    expect(centreOf({ rise: '', sigma: '' })).toBeNull()
    expect(centreOf({ rise: '5', sigma: '0' })).toBeNull()
  })
})

describe('equal levels', () => {
  const scan = crossFromForm({ ...emptyCross('a'), way: 'equal' }, station(), SUN, crossWish(emptyCross('a')), 'x', T)
  const form = { axis: 'lower' as const, lower: '300', upper: '210' }
  it('are a scan by taps, without a plan of steps', () => {
    expect(scan.how).toBe('tapped')
    expect(scan.plan).toBeUndefined()
  })
  it('pair the two sides of an axis, then begin the next pair, each axis for itself', () => {
    const marks: EqualMark[] = []
    const take = (axis: 'lower' | 'upper') => {
      marks.push(equalMark({ ...form, axis }, { ...scan, marks }, station().mount, T + 1000 * marks.length)!)
      return marks.at(-1)!.pair
    }
    expect(lackingAxis(marks)).toBe('lower')
    expect([take('lower'), openPair(marks, 'lower'), take('lower'), openPair(marks, 'lower')]).toEqual([1, 1, 1, null])
    expect(lackingAxis(marks)).toBe('upper')
    expect([take('upper'), lackingAxis(marks), take('upper'), lackingAxis(marks)]).toEqual([1, 'upper', 1, null])
    expect([take('lower'), take('lower')]).toEqual([2, 2])
    expect([pairsOn(marks, 'lower'), pairsOn(marks, 'upper')]).toEqual([2, 1])
  })
  it('need both readings', () => {
    expect(equalMark({ ...form, upper: '' }, scan, station().mount, T)).toBeNull()
  })
})

describe('secondsFrom', () => {
  it('counts to a millisecond', () => {
    expect(secondsFrom('2026-05-01T10:00:00.250Z', T + 1500)).toBe(1.25)
  })
})

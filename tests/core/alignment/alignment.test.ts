/** The guided alignment on small stations of all four kinds: each step's state from the records, and from nothing else. */
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { ALIGNMENT_STEPS, type AlignmentStep } from '../../../src/core/records/alignment.ts'
import type { ChangeRecord, MountKind, StationRecord } from '../../../src/core/records/fieldbook.ts'
import { checkFieldBook } from '../../../src/core/records/intake.ts'
import { aligned, bare, GROUND_MS, NOW_MS, PROOF_MS } from '../../helpers/aligned.ts'
import { states, stepOf, told } from '../../helpers/aligntold.ts'
import { isWhole } from '../../helpers/share.ts'
import { bookOf, KINDS, utcOf } from '../../helpers/simulate.ts'
import { someOf } from '../../helpers/some.ts'

const HOUR = 3_600_000
const complete = new Map(KINDS.map(kind => [kind, aligned(kind)]))
const whole = (kind: MountKind, more: Partial<StationRecord> = {}): StationRecord => ({
  ...structuredClone(complete.get(kind)!),
  ...more,
})
const changed = (what: string[], more: Partial<ChangeRecord> = {}, ms = NOW_MS - 30 * 60_000): ChangeRecord[] => [
  { id: 'change', utc: utcOf(ms), what, ...more },
]
/** Of a station whose numbers were carried over as they are now. */
const carried = (s: StationRecord, ms = NOW_MS - 2 * HOUR): StationRecord => ({
  ...s,
  alignment: [{ id: 'carried', utc: utcOf(ms), what: 'carried', feed: 'a', numbers: told(s).numbers }],
})

describe('a station of three answers', () => {
  it.each(KINDS)('has nothing begun, and begins with the clock: %s', kind => {
    const a = told(bare(kind))
    expect(a.steps.map(s => s.id)).toEqual(ALIGNMENT_STEPS)
    expect(a.next).toBe('site-clock')
    const kinds = new Set(a.steps.map(s => s.state.kind))
    expect(kinds).toEqual(new Set(kind === 'el-over-az' ? ['not-begun'] : ['not-begun', 'not-for']))
    for (const s of someOf(a.steps)) if (s.state.kind === 'not-begun') expect(s.needs.length, s.id).toBeGreaterThan(0)
    // Both readouts were guessed: what they show comes before any calibration.
    expect(stepOf(a, 'readouts').needs.map(n => n.what)).toEqual(['readout', 'readout'])
    expect(a.numbers).toEqual([])
  })

  it.each(KINDS)('has no step for the mast of a mount that stands on an axis of its own: %s', kind => {
    const mast = stepOf(told(bare(kind)), 'mast')
    expect(mast.state).toEqual(kind === 'el-over-az' ? { kind: 'not-begun' } : { kind: 'not-for', why: 'mast-in-axis' })
    expect(mast.limits.length).toBe(kind === 'el-over-az' ? 1 : 0)
  })

  it('has no step for its marks where no axis counts, and none for the feed of an offset dish', () => {
    const degrees = bare('x-y')
    degrees.mount.upper = structuredClone(degrees.mount.lower)
    expect(stepOf(told(degrees), 'references').state).toEqual({ kind: 'not-for', why: 'no-counts' })
    for (const kind of KINDS) {
      const s = bare(kind, { dish: { diameterM: 3, focalRatio: 0.6, fed: 'offset' } })
      const feed = stepOf(told(s), 'feed')
      expect(feed).toMatchObject({ state: { kind: 'not-for', why: 'offset-fed' }, needs: [], values: [], limits: [] })
    }
  })

  it('says how many sightings it needs, one fewer with each', () => {
    const all = complete.get('az-over-el')!
    const few = (n: number) =>
      stepOf(told({ ...bare('az-over-el'), sightings: all.sightings.slice(0, n) }), 'sightings')
    const needed = few(0).needs[0]!.n!
    expect(few(0).state.kind).toBe('not-begun')
    expect(needed).toBeGreaterThanOrEqual(6)
    for (const n of [1, 3]) {
      expect(few(n).state.kind).toBe('needs')
      expect(few(n).needs[0]).toEqual({ what: 'sighting', n: needed - n })
    }
    expect(few(needed).state.kind).toBe('done')
  })
})

describe('a mount taken through all of it', () => {
  it.each(KINDS)(
    'is legal, has every step done but the last, and the last once the numbers are carried over: %s',
    kind => {
      const s = whole(kind)
      expect(checkFieldBook(bookOf(s))).toEqual([])
      const { carry, mast, ...rest } = states(s)
      expect(mast).toBe(kind === 'el-over-az' ? 'done' : 'not-for')
      expect(new Set(Object.values(rest))).toEqual(new Set(['done']))
      expect(carry).toBe('not-begun')
      expect(told(s).next).toBe('carry')
      const over = carried(s)
      expect(checkFieldBook(bookOf(over))).toEqual([])
      expect(stepOf(told(over), 'carry').state).toEqual({ kind: 'done', utc: utcOf(NOW_MS - 2 * HOUR) })
      expect(told(over).next).toBeNull()
    },
  )

  it.each(KINDS)('has a value with σ and date, inside what the dish needs, at each step that is measured: %s', kind => {
    for (const s of someOf(told(whole(kind)).steps)) {
      if (s.state.kind !== 'done' || s.id === 'bolts') continue
      expect(s.values.length, s.id).toBeGreaterThan(0)
      expect(s.state.utc, s.id).toMatch(/Z$/)
      for (const v of s.values) {
        if (v.tolerance === null) continue
        expect(v.inside, s.id).toBe('inside')
        if (v.sigma !== null && v.of !== 'clock') {
          expect(Math.abs(v.of === 'heading' ? 0 : (v.value ?? 0)) + 1.96 * v.sigma).toBeLessThanOrEqual(v.tolerance)
        }
      }
    }
  })
})

describe('undone by a later change', () => {
  const SKY: AlignmentStep[] = ['sightings', 'solve']
  it.each([
    // A base that was moved leaves readouts, marks and feed as they were.
    ['az-over-el', ['lower-axis'], ['axes', 'heading', ...SKY]],
    ['x-y', ['lower-axis'], ['axes', 'heading', ...SKY]],
    ['ha-dec', ['lower-axis'], ['axes', ...SKY]],
    ['el-over-az', ['lower-axis'], ['mast', 'axes', ...SKY]],
    // The counted axis begins again: its mark, its calibration.
    ['az-over-el', ['upper-readout'], ['references', 'readouts', ...SKY]],
    ['x-y', ['feed:a'], ['feed']],
  ] as const)('%s, %j: %j, and the change is named', (kind, what, expected) => {
    const s = carried(whole(kind, { changes: changed([...what]) }))
    s.alignment![0] = { ...(s.alignment![0] as object), utc: utcOf(NOW_MS - HOUR) } as never
    const a = told(s)
    const undone = a.steps.filter(x => x.state.kind === 'undone').map(x => x.id)
    expect(undone).toEqual(expect.arrayContaining([...expected, 'carry']))
    for (const id of someOf(undone))
      expect(stepOf(a, id).state).toMatchObject({
        by: { kind: 'change', id: 'change', utc: utcOf(NOW_MS - 30 * 60_000), what },
      })
    // What the change does not name stays done.
    const kept: Record<string, readonly AlignmentStep[]> = {
      'lower-axis': ['references', 'feed'],
      'upper-readout': ['mast', 'feed', 'heading'],
      'feed:a': ['axes', 'references', 'readouts', 'heading'],
    }
    for (const id of someOf(kept[what[0]!]!))
      if (stepOf(a, id).state.kind !== 'not-for') expect(stepOf(a, id).state.kind, id).toBe('done')
  })

  it('not by a change that is still to come, nor by one before the step was done', () => {
    const before = states(carried(whole('az-over-el')))
    for (const ms of [NOW_MS + HOUR, GROUND_MS - HOUR])
      expect(states(carried(whole('az-over-el', { changes: changed(['lower-axis'], {}, ms) })))).toEqual(before)
  })

  it('a counter that slipped takes the mark’s proof, and leaves its calibration', () => {
    const a = told(whole('az-over-el', { changes: changed(['upper-zero'], { slipped: true }) }))
    expect(stepOf(a, 'references').state.kind).toBe('undone')
    expect(stepOf(a, 'readouts').state.kind).toBe('done')
    expect(stepOf(a, 'axes').state.kind).toBe('done')
  })

  it('levelled, marked, sighted again it is done again', () => {
    const at = PROOF_MS - HOUR
    const s = whole('az-over-el', { changes: changed(['lower-axis'], {}, at) })
    expect(stepOf(told(s), 'axes').state.kind).not.toBe('done')
    s.levels = [...s.levels!, ...s.levels!.map(l => ({ ...l, id: `again-${l.id}`, utc: utcOf(at + HOUR / 2) }))]
    expect(stepOf(told(s), 'axes').state).toEqual({ kind: 'done', utc: utcOf(at + HOUR / 2) })
  })
})

describe('left out by the person', () => {
  const leaves = (step: AlignmentStep, note?: string): StationRecord['alignment'] => [
    { id: 'left', utc: utcOf(GROUND_MS), what: 'left-out', step, ...(note !== undefined && { note }) },
  ]

  it.each(KINDS)('every open step, with its note; the next one is the one after: %s', kind => {
    const s = bare(kind)
    for (const id of ALIGNMENT_STEPS) {
      if (stepOf(told(s), id).state.kind === 'not-for') continue
      const a = told({ ...s, alignment: leaves(id, 'no ladder') })
      expect(stepOf(a, id).state).toEqual({ kind: 'left-out', utc: utcOf(GROUND_MS), note: 'no ladder', id: 'left' })
      expect(a.next).not.toBe(id)
      // No other step is touched.
      const before = states(s)
      for (const other of ALIGNMENT_STEPS) if (other !== id) expect(stepOf(a, other).state.kind).toBe(before[other])
    }
  })

  it('hides nothing that was done all the same', () => {
    expect(stepOf(told(whole('x-y', { alignment: leaves('axes') })), 'axes').state.kind).toBe('done')
  })

  it('counts from when it is said', () => {
    const later: StationRecord['alignment'] = [{ id: 'l', utc: utcOf(NOW_MS + HOUR), what: 'left-out', step: 'mast' }]
    expect(states({ ...bare('el-over-az'), alignment: later }).mast).toBe('not-begun')
  })
})

describe('done is said only where the opposite would have been seen', () => {
  it('a level too rough for its limit: what would settle it', () => {
    const s = whole('az-over-el')
    s.sightings = []
    s.levels![0]!.sigmaDeg = 0.3
    const { state, needs, values } = stepOf(told(s), 'axes')
    expect(state.kind).toBe('needs')
    expect(needs).toEqual([{ what: 'finer', value: { of: 'level', level: 'lower-axis-elevation' }, n: 1 }])
    expect(values[0]).toMatchObject({ inside: 'cannot-tell' })
    expect(values[0]!.sigmaWanted!).toBeCloseTo(values[0]!.tolerance! / 1.96, 6)
    // It waits: the rest goes on.
    expect(told(s).next).not.toBe('axes')
  })

  it('a level well outside its limit is outside, and no more is wanted', () => {
    const s = whole('az-over-el')
    s.sightings = []
    Object.assign(s.levels![0]!, { valueDeg: 1.2 })
    const step = stepOf(told(s), 'axes')
    expect(step.state).toEqual({ kind: 'off', utc: utcOf(GROUND_MS) })
    expect(step.values[0]).toMatchObject({ inside: 'outside', value: 1.2 })
    expect(told(s).next).toBe('axes')
  })

  it('two levels that disagree are no proof, whichever is the finer', () => {
    const s = whole('el-over-az')
    s.sightings = []
    s.levels!.push({
      id: 'm2',
      utc: utcOf(GROUND_MS + HOUR),
      what: 'mast-lean',
      northDeg: 0.9,
      eastDeg: 0,
      sigmaDeg: 0.1,
    })
    const mast = stepOf(told(s), 'mast')
    expect(mast.state.kind).toBe('needs')
    expect(mast.needs).toEqual([{ what: 'level', level: 'mast-lean', again: true, n: 1 }])
  })

  it('a level in a clamping shares an error that nobody knows', () => {
    const s = whole('az-over-el')
    s.sightings = []
    s.levels![0]!.clamping = 'c'
    expect(stepOf(told(s), 'axes').values[0]!.sigma!).toBeCloseTo(Math.hypot(1, 0.05), 6)
    expect(stepOf(told(s), 'axes').state.kind).toBe('needs')
  })

  it('a mark read twice on the spot proves nothing; ten minutes later it does; a lost count is outside', () => {
    const at = (minutes: number, reading = 4010) => {
      const s = whole('az-over-el')
      s.references![1] = { ...s.references![1]!, utc: utcOf(GROUND_MS + minutes * 60_000), reading }
      return stepOf(told(s), 'references')
    }
    expect(at(3).state.kind).toBe('needs')
    expect(at(3).needs).toEqual([{ what: 'mark', axis: 'upper', mark: 'inner stop', again: true, n: 1 }])
    expect(at(12).state.kind).toBe('done')
    expect(at(12, 4030).state.kind).toBe('off')
    expect(at(12, 4030).values[0]).toMatchObject({ value: 20, inside: 'outside', unit: 'reading' })
  })

  it('a mark met too roughly does not prove a counter', () => {
    const s = whole('az-over-el')
    for (const r of s.references!) r.sigmaDeg = 0.3
    expect(stepOf(told(s), 'references').state.kind).toBe('needs')
  })

  it('a heading that was only entered is the person’s word; sightings confirm it', () => {
    const s = bare('az-over-el')
    expect(states(s).heading).toBe('not-begun')
    delete (s.guesses as Record<string, boolean>)['mount.headingDeg']
    expect(stepOf(told(s), 'heading')).toMatchObject({ state: { kind: 'entered', utc: null } })
    expect(states(whole('az-over-el')).heading).toBe('done')
  })

  it.each(KINDS)(
    'set by the Sun’s line it is the person’s word with its date, and undone when the base moves: %s',
    kind => {
      const set = { id: 'set', utc: utcOf(GROUND_MS), what: 'set' as const, step: 'heading' as const }
      const s = { ...bare(kind), alignment: [set] }
      expect(stepOf(told(s), 'heading').state).toEqual({ kind: 'entered', utc: utcOf(GROUND_MS) })
      const what = kind === 'el-over-az' ? 'lower-zero' : 'lower-axis'
      expect(stepOf(told({ ...s, changes: changed([what]) }), 'heading').state.kind).toBe('undone')
    },
  )

  it('the clock: a check of yesterday counts for sightings made by it, not for those to come', () => {
    const old = { id: 'c', utc: utcOf(NOW_MS - 30 * HOUR), offsetS: 2, sigmaS: 0.2, by: 'taps' as const }
    const fresh = { ...old, utc: utcOf(NOW_MS - HOUR) }
    const s = bare('x-y')
    expect(states(s)['site-clock']).toBe('not-begun')
    expect(states({ ...s, clockChecks: [fresh] })['site-clock']).toBe('done')
    // Just kept, by a phone that is two seconds ahead: its own date lies after the true time.
    expect(states({ ...s, clockChecks: [{ ...fresh, utc: utcOf(NOW_MS + 2000) }] })['site-clock']).toBe('done')
    expect(stepOf(told({ ...s, clockChecks: [old] }), 'site-clock').state).toEqual({
      kind: 'undone',
      by: { kind: 'age' },
      was: old.utc,
    })
    expect(states(whole('x-y', { clockChecks: [old] }))['site-clock']).toBe('done')
    const unknown = whole('x-y', { clockChecks: [old] })
    unknown.sightings = unknown.sightings.map(({ clockOffsetS: _, ...r }) => r)
    expect(states(unknown)['site-clock']).toBe('undone')
  })

  it('a solution is done when it is within, and says why not', () => {
    const s = whole('ha-dec')
    s.sightings = s.sightings.slice(0, 3)
    s.levels = []
    s.priors = []
    const solve = stepOf(told(s), 'solve')
    expect(solve.state.kind).toBe('needs')
    expect(solve.needs).toEqual([{ what: 'verdict', whyNot: { kind: 'loss' }, n: null }])
    for (const id of ['bolts', 'verify', 'carry'] as const)
      expect(stepOf(told(s), id).needs).toEqual([{ what: 'step', step: 'solve', n: null }])
  })

  it('sightings of one visit alone do not prove it: another day is wanted', () => {
    const s = whole('az-over-el')
    s.sightings = s.sightings.filter(r => Date.parse(r.utc) < PROOF_MS)
    s.changes = changed(['tube'], {}, PROOF_MS - HOUR)
    const verify = stepOf(told(s), 'verify')
    expect(verify.state.kind).toBe('not-begun')
    expect(verify.needs).toEqual([{ what: 'visit', n: 1 }])
  })
})

describe('what the sky answers', () => {
  it('takes away what was never measured on the ground, once the beam is held', () => {
    const s = whole('az-over-el')
    s.levels = []
    s.dish = { diameterM: 3, focalRatio: 0.4 }
    const after = states(s)
    expect(after.axes).toBe('covered')
    expect(after.feed).toBe('covered')
    expect(after.solve).toBe('done')
    // The proof of a counter is not the sky's to give.
    s.references = []
    expect(states(s).references).toBe('not-begun')
  })

  it('a mount that leans: bolts want turning until the program has the numbers', () => {
    const s = aligned('az-over-el', { level: 1.5 })
    const bolts = stepOf(told(s), 'bolts')
    expect(bolts.state.kind).toBe('needs')
    expect(bolts.needs[0]!.what).toBe('turn')
    expect(bolts.values[0]).toMatchObject({ of: 'as-entered', inside: 'outside' })
    expect(bolts.values[0]!.value!).toBeGreaterThan(1)
    expect(states(carried(s)).bolts).toBe('covered')
    // What was measured and is outside is not taken back by a solution that holds.
    expect(states(s)).toMatchObject({ axes: 'off', solve: 'done' })
  })
})

describe('carried over', () => {
  it('is undone when the solution moves away from the numbers, and says by how much', () => {
    const s = carried(whole('az-over-el'))
    const [entry] = s.alignment as { numbers: { id: string; value: number }[] }[]
    const near = stepOf(told(s), 'carry')
    expect(near.values[0]!.value!).toBeLessThan(1e-4)
    entry!.numbers = entry!.numbers.map(n => (n.id === 'upperZero' ? { ...n, value: n.value + 0.6 } : n))
    const far = stepOf(told(s), 'carry')
    expect(far.state).toEqual({ kind: 'undone', by: { kind: 'numbers' }, was: utcOf(NOW_MS - 2 * HOUR) })
    // A zero that is 0.6° out throws the beam by 0.6°, whatever the pose.
    expect(far.values[0]!.value!).toBeCloseTo(0.6, 1)
    entry!.numbers = entry!.numbers.map(n => (n.id === 'upperZero' ? { ...n, value: n.value - 0.4 } : n))
    expect(stepOf(told(s), 'carry').state.kind).toBe('done')
  })

  it('of another feed is none of this one’s', () => {
    const s = carried(whole('x-y'))
    ;(s.alignment![0] as { feed: string }).feed = 'b'
    s.feeds = [...s.feeds, { id: 'b', name: 'horn', frequencyMHz: 1296 }]
    expect(states(s).carry).toBe('not-begun')
  })
})

describe('what has nothing to do with a step', () => {
  const spare: ((k: number) => Partial<StationRecord>)[] = [
    k => ({ noise: [{ id: `n${k}`, utc: utcOf(NOW_MS - k * HOUR), feed: 'a', of: 'sun', yDb: 8 }] }),
    k => ({ instruments: [{ id: `i${k}`, name: 'box level', type: 'inclinometer' }] }),
    k => ({ halfSightings: [{ id: `h${k}`, utc: utcOf(NOW_MS - k * HOUR), time: 'stamped' }] }),
    k => ({ checks: [{ id: `c${k}`, kind: 'elsewhere' }] }),
    k => ({ alignment: [{ id: `a${k}`, what: 'another program’s' }] }),
    k => ({ alignment: [{ id: `a${k}`, utc: utcOf(NOW_MS - HOUR), what: 'set', step: 'bolts' }] }),
    k => ({ notes: `gate key ${k}`, name: `Sluice ${k}` }),
    () => ({ stow: { lower: 30, upper: 4100 } }),
    k => ({ scans: [{ id: `s${k}`, what: 'elsewhere' }] }),
  ]

  it('changes no state of any step, whatever the mount and however far it has come', () => {
    const before = new Map<string, string>()
    const stateText = (s: StationRecord) => JSON.stringify(told(s).steps.map(x => [x.state, x.needs]))
    fc.assert(
      fc.property(
        fc.constantFrom(...KINDS),
        fc.boolean(),
        fc.nat(spare.length - 1),
        fc.integer({ min: 1, max: 40 }),
        (kind, isAligned, which, k) => {
          const s = isAligned ? whole(kind) : bare(kind)
          const key = `${kind} ${isAligned}`
          if (!before.has(key)) before.set(key, stateText(s))
          expect(stateText({ ...s, ...spare[which]!(k) } as StationRecord)).toBe(before.get(key))
        },
      ),
      { numRuns: isWhole ? 32 : 8 },
    )
  })
})

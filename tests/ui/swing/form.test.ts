import { describe, expect, it } from 'vitest'
import type { StationRecord } from '../../../src/core/records/fieldbook.ts'
import { stationFromRecord } from '../../../src/core/records/stationintake.ts'
import { apply, compose, rotation, transpose } from '../../../src/core/rotations.ts'
import type { Vec3 } from '../../../src/core/vectors.ts'
import {
  calibrationOfSwing,
  EMPTY_NEXT,
  emptySwing,
  formOfSwing,
  keptPairs,
  levelFromSwing,
  type SwingForm,
  swingOf,
  tiltsOf,
  upFromTilts,
  waiting,
  withoutPlace,
  withPlace,
} from '../../../src/ui/swing/form.ts'
import { calibrationRows, noCalibration, swingWords } from '../../../src/ui/swing/words.ts'
import { DEG } from '../../helpers/degrees.ts'
import { plain } from '../../helpers/plain.ts'
import { chance } from '../../helpers/random.ts'
import { smallBook } from '../../helpers/smallbook.ts'
import { randomRotation } from '../../helpers/swingphone.ts'

/** The small station, its upper axis counted 10 to a degree. */
const station = (): StationRecord => {
  const s = smallBook().stations[0] as StationRecord
  s.sightings = []
  s.mount.upper = {
    readout: { type: 'linear-counts', zeroCounts: 500, countsPerDeg: 10 },
    minReading: 0,
    maxReading: 1000,
  }
  return s
}

/** What a phone in any position sees on the swing axis, at a tilt of 40° and with the axis lower than on paper by some degrees. */
function swungForm(
  perDeg = 10,
  readings = [50, 300, 600, 900],
  seed = 3,
  source: 'orientation' | 'motion' = 'orientation',
): SwingForm {
  const step = source === 'motion' ? 0.1 / 9.80665 : 0.1 * DEG

  const record = station()
  const { paper } = stationFromRecord(record).model
  const axis = apply(rotation(paper.a1, paper.s1 * 40 * DEG), paper.a2)
  const fastened = randomRotation(chance(seed))
  const ups = readings.map(r => {
    const turned = compose(rotation(axis, ((paper.s2 * (r - 500)) / perDeg) * DEG), fastened)
    return apply(transpose(turned), [0, 0, 1])
  })
  let form: SwingForm = { ...emptySwing('upper', Date.parse('2026-05-01T10:00:00Z')), lower: '40' }
  for (const [k, reading] of readings.entries()) {
    const typed = { ...form, next: { ...EMPTY_NEXT, reading: String(reading) } }
    form = withPlace(typed, record, { up: ups[k] as Vec3 as Vec3<'Phone'>, noise: 0, spread: 0, source, step })!
  }
  return form
}

describe('a swing typed by hand', () => {
  it('makes up from the tilts of two edges and tells them again', () => {
    const up = upFromTilts({ reading: '', top: '30', right: '-20', face: 'down' })
    expect(up.kind).toBe('up')
    if (up.kind !== 'up') return
    expect(up.up[1]).toBeCloseTo(0.5, 12)
    expect(up.up[2]).toBeLessThan(0)
    expect(tiltsOf(up.up)).toMatchObject({ face: 'down' })
    expect(tiltsOf(up.up).topDeg).toBeCloseTo(30, 9)
    expect(tiltsOf(up.up).rightDeg).toBeCloseTo(-20, 9)
  })

  it('refuses two edges that cannot both be so steep, and waits for both', () => {
    expect(upFromTilts({ reading: '', top: '60', right: '60', face: 'up' }).kind).toBe('impossible')
    expect(upFromTilts({ reading: '', top: '60', right: '', face: 'up' }).kind).toBe('missing')
    const form = { ...emptySwing('upper', 0), by: 'hand' as const }
    expect(withPlace({ ...form, next: { ...EMPTY_NEXT, top: '1', right: '2' } }, station(), null)).toBeNull()
    const added = withPlace(
      { ...form, next: { ...EMPTY_NEXT, reading: '7', top: '1', right: '2', face: 'down' } },
      station(),
      null,
    )
    expect(added!.clampings).toHaveLength(1)
    expect(added!.next).toEqual({ ...EMPTY_NEXT, face: 'down' })
  })

  it('never takes a tilt typed before when the phone is asked', () => {
    const form = { ...emptySwing('upper', 0), next: { reading: '7', top: '1', right: '2', face: 'up' as const } }
    expect(withPlace(form, station(), null)).toBeNull()
  })
})

describe('what a swing says', () => {
  it('gives the elevation of the end that points up, as a level with all it was worked out from', () => {
    const form = swungForm()
    const swing = swingOf(form, station())
    const made = levelFromSwing(form, station(), swing, null, 'x')
    expect(made.kind).toBe('ready')
    if (made.kind !== 'ready') return
    expect(made.record).toMatchObject({ what: 'upper-axis-elevation', lower: 40 })
    // The tilt's 40° lift the swing plane's centre, so the swing axis points 50° up at its other end.
    expect('valueDeg' in made.record && made.record.valueDeg).toBeCloseTo(50, 3)
    expect(made.record.sigmaDeg).toBeCloseTo(1.15 * Math.cos(50 * DEG), 1)
    const again = formOfSwing(made.record as Parameters<typeof formOfSwing>[0])
    expect(again.clampings).toEqual(form.clampings)
    expect(again.lower).toBe('40')
  })

  it('needs the reading of the other axis, and says so', () => {
    const form = { ...swungForm(), lower: '' }
    expect(levelFromSwing(form, station(), swingOf(form, station()), null, 'x')).toEqual({
      kind: 'not-yet',
      why: 'lower',
    })
  })

  it('calibrates the counts by the same swing, the zero staying open', () => {
    const form = swungForm(8)
    const swing = swingOf(form, station())
    const c = calibrationOfSwing(form, station(), swing)!
    expect(noCalibration(station().mount, 'upper', c)).toBeNull()
    if (c.kind !== 'calibrated') return
    expect(c.zero).toBeNull()
    const rows = calibrationRows(station().mount, 'upper', c)
    expect(plain(rows[0]!.value)).toMatch(/^8\.0\d* ± 0\.\d+, 10\.0\d* before$/)
    expect(keptPairs(form, swing).map(p => p.reading)).toEqual([50, 300, 600, 900])
    expect(keptPairs(form, swing)[3]!.angleDeg).toBeCloseTo(850 / 8, 2)
  })

  it('a second clamping counts once it has three positions; a position can be taken out', () => {
    const form = swungForm()
    const begun = { ...form, clampings: [...form.clampings, form.clampings[0]!.slice(0, 2)] }
    expect(waiting(begun)).toBe(2)
    const s = swingOf(begun, station())
    expect(s.kind === 'swung' && s.clampings).toHaveLength(1)
    expect(withoutPlace(form, 0, 1).clampings[0]!.map(p => p.reading)).toEqual([50, 600, 900])
  })

  it('says how much further to turn when the arc is too small', () => {
    const form = swungForm(10, [400, 500, 600])
    const said = swingWords(station().mount, 'upper', swingOf(form, station()), null)
    expect(said.good).toBe(false)
    expect(plain(said.strong)).toMatch(/turned by 20°\. That is too little: turn it \d+° more, \d+° in all/)
  })

  it('by a phone that rounds accelerations is less sure, and keeps where each position came from', () => {
    const fine = swingOf(swungForm(6), station())
    const coarse = swingOf(swungForm(6, undefined, undefined, 'motion'), station())
    if (fine.kind !== 'swung' || coarse.kind !== 'swung') throw new Error('expected two answers')
    // 0.1 m/s² is 0.58° near level, so six times the rounding of 0.1°.
    expect(coarse.noise / fine.noise).toBeGreaterThan(2)
    const made = levelFromSwing(swungForm(6, undefined, undefined, 'motion'), station(), coarse, null, 'x')
    if (made.kind !== 'ready') throw new Error(made.why)
    expect(made.record.raw).toMatchObject({
      swing: { stepDeg: expect.closeTo(0.5843, 4), clampings: [[{ phone: { source: 'motion' } }, {}, {}, {}]] },
    })
  })

  it('in words: the elevation with its ±, and what the sensor may be off by', () => {
    const form = swungForm()
    const said = swingWords(station().mount, 'upper', swingOf(form, station()), 50)
    expect(plain(said.strong)).toBe('Swing axis: upper end 50.0 ± 0.8° up.')
    expect(plain(said.more[0]!)).toContain('± 0.7° is the bias that the phone’s sensor may have')
  })
})

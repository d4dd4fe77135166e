import 'fake-indexeddb/auto'
import { describe, expect, it } from 'vitest'
import type { LevelRecord, StationRecord, Taken } from '../../../src/core/records/fieldbook.ts'
import { type InstrumentRecord, instrumentsOf } from '../../../src/core/records/instruments.ts'
import { freshPhone } from '../../../src/state/instruments.ts'
import { emptyMeasure, type MeasureForm } from '../../../src/ui/level/form.ts'
import { oneField, turnedFields } from '../../../src/ui/level/handed.ts'
import { besides, clampingOf, ownOf } from '../../../src/ui/level/own.ts'
import { smallBook } from '../../helpers/smallbook.ts'

const UTC = '2026-05-02T09:00:00Z'
const NOW = Date.parse(UTC)
const ids = { clamping: 'fresh', instrument: 'new-one' }
const station = (instruments: unknown[] = [], levels: LevelRecord[] = []): StationRecord => ({
  ...smallBook().stations[0],
  instruments,
  levels,
})
const rad = Math.PI / 180
const taken = (deg: number, utc = UTC): Taken => ({
  utc,
  source: 'orientation',
  stepDeg: 0.1,
  rateHz: 60,
  noiseDeg: 0,
  spreadDeg: 0,
  up: [0, Math.sin(deg * rad), Math.cos(deg * rad)],
})
const form = (change: Partial<MeasureForm>): MeasureForm => ({ ...emptyMeasure(NOW), ...change })
const WHAT = 'lower-axis-elevation'
const written = (list: ReturnType<typeof besides>) => list.map(d => d.body as InstrumentRecord)

describe('ownOf and besides', () => {
  it('name a phone that is new in the book, and write it beside the level', () => {
    const f = form(oneField(taken(3), 'top', WHAT))
    const own = ownOf(station(), WHAT, f, null, ids, null)
    expect(own).toMatchObject({ id: 'new-one', instrument: null, use: { kind: 'none' } })
    const beside = written(besides(station(), WHAT, f, own, UTC, null))
    expect(beside).toMatchObject([{ id: 'new-one', type: 'phone', edge: 'long', name: 'Phone, long edge' }])
    expect(instrumentsOf(beside)).toEqual(beside)
  })
  it('write the error that a reversal found, and a later one over it, but not an earlier one', () => {
    const f = form(turnedFields(taken(12.4), taken(-168.4, '2026-05-02T09:01:00Z'), 'top'))
    const own = ownOf(station(), WHAT, f, null, ids, null)
    const [phone] = written(besides(station(), WHAT, f, own, UTC, null))
    expect(phone!.bias).toMatchObject({ biasDeg: 0.4, about: 'x', utc: '2026-05-02T09:01:00Z' })
    const s = station([phone])
    const again = ownOf(s, WHAT, f, null, ids, null)
    expect(again.id).toBe(phone!.id)
    expect(besides(s, WHAT, f, again, UTC, null)).toEqual([])
    const later = form(turnedFields(taken(12.6), taken(-168.4, '2026-05-02T10:00:00Z'), 'top'))
    expect(written(besides(s, WHAT, later, ownOf(s, WHAT, later, null, ids, null), UTC, null))[0]!.bias!.biasDeg).toBe(
      0.5,
    )
  })
  it('write nothing of an inclinometer’s after a reversal that was refused', () => {
    const box: InstrumentRecord = { id: 'b', name: 'box level', type: 'inclinometer' }
    const s = station([box])
    const f = (second: string) => form({ how: 'reversal', shows: 'circle', first: '12.4', second, instrumentId: 'b' })
    const of = (second: string) => besides(s, WHAT, f(second), ownOf(s, WHAT, f(second), null, ids, null), UTC, null)
    expect(of('-11.8')).toEqual([])
    expect(written(of('-168.4'))[0]).toMatchObject({ id: 'b', bias: { biasDeg: 0.4, utc: UTC } })
  })
  it('take off in an edit what was taken off then, also where the error was found anew since', () => {
    const phone = {
      ...freshPhone('long', 'Phone', 'p'),
      bias: { utc: '2026-06-01T00:00:00Z', biasDeg: 9, sigmaDeg: 0.1 },
    }
    const old: LevelRecord = {
      id: 'x',
      utc: UTC,
      what: WHAT,
      valueDeg: 2.6,
      sigmaDeg: 0.15,
      instrument: 'p',
      ...({ raw: { shownDeg: 3, biasDeg: 0.4, taken: [taken(3)], end: 'top' } } as object),
    }
    const f = form(oneField(taken(3), 'top', WHAT))
    const { use } = ownOf(station([phone], [old]), WHAT, f, old, ids, null)
    expect(use.kind === 'valid' && use.bias / rad).toBeCloseTo(0.4, 9)
  })
})

describe('clampingOf', () => {
  it('is a fresh one, the one before, or none', () => {
    const f = (sits: MeasureForm['sits']) => form({ sits })
    expect(clampingOf(f('once'), WHAT, ids, 'last')).toBeNull()
    expect(clampingOf(f('new'), WHAT, ids, 'last')).toBe('fresh')
    expect(clampingOf(f('same'), WHAT, ids, 'last')).toBe('last')
    expect(clampingOf(f('new'), 'mast-lean', ids, 'last')).toBeNull()
  })
})

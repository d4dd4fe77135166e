/**
 * Scans as the screens need them. Every level is written at once, in revisions that never grow long: the levels of a
 * drift scan are in parts of twenty. What could not be written is shown with the rest and waits among the unsaved.
 */
import { checkRecord } from '../core/records/checkrecord.ts'
import { rounded } from '../core/records/digits.ts'
import type { SightingRecord, StationRecord } from '../core/records/fieldbook.ts'
import { instantMs } from '../core/records/instant.ts'
import { recordId } from '../core/records/kinds.ts'
import {
  type CrossSampleRecord,
  type CrossScanRecord,
  type DriftSampleRecord,
  type DriftScanRecord,
  type EqualMark,
  knownScans,
  type ScanPartRecord,
  type ScanRecord,
  type TapMark,
} from '../core/records/scans.ts'
import type { Draft, StoredRecord } from '../core/records/stored.ts'
import type { SightingDraft } from '../core/scan/draft.ts'
import { marksOf } from '../core/scan/tapanswer.ts'
import type { Kept, StoreFailure } from '../store/database.ts'
import { type BookModel, entry, fieldBook, newId, tombstones, type UndoStep } from './book.ts'
import { refusedFor } from './writing.ts'

/** Levels in one part. */
export const PART = 20

type ScanStep = Extract<UndoStep, { place: 'scan' }>

/** The scans of a station with what waits to be written, newest state of each. */
export function scanRecords(station: StationRecord, model: BookModel = fieldBook): ScanRecord[] {
  const all = new Map(knownScans(station.scans).map(r => [r.id, r]))
  for (const draft of waitingDrafts(station.id, model))
    for (const r of knownScans([draft.body])) {
      if (draft.deleted) all.delete(r.id)
      else all.set(r.id, r)
    }
  return [...all.values()]
}

const waitingDrafts = (station: string, model: BookModel): Draft[] =>
  model.unsaved.value.flatMap(u => u.drafts).filter(d => d.kind === 'scan' && d.station === station)

type Whole = DriftScanRecord | CrossScanRecord
type Of<W extends Whole['what']> = Extract<Whole, { what: W }>

/** Scans of one kind, newest first. */
export const scansOf = <W extends Whole['what']>(records: readonly ScanRecord[], what: W): Of<W>[] =>
  records.filter((r): r is Of<W> => r.what === what).sort((a, b) => instantMs(b.utc) - instantMs(a.utc))

export const scanOf = <W extends Whole['what']>(records: readonly ScanRecord[], what: W, id: string): Of<W> | null =>
  scansOf(records, what).find(r => r.id === id) ?? null

const partsOf = (records: readonly ScanRecord[], scan: string): ScanPartRecord[] =>
  records.filter((r): r is ScanPartRecord => r.what === 'part' && r.scan === scan)

/** A level, and in which record it lies. */
export interface HeardLevel extends DriftSampleRecord {
  at: { record: string; index: number }
}

/** All levels of a drift scan in order of time, those left out too, and its gaps. */
export function heardIn(records: readonly ScanRecord[], scan: DriftScanRecord) {
  const holders = [scan, ...partsOf(records, scan.id)]
  const samples = holders
    .flatMap(r => r.samples.map((s, index): HeardLevel => ({ ...s, at: { record: r.id, index } })))
    .sort((a, b) => a.s - b.s)
  const gaps = holders.flatMap(r => r.gaps ?? []).sort((a, b) => a.fromS - b.fromS)
  return { samples, gaps }
}

/** The scan as the fit gets it: in one piece, without what was left out. */
export function driftToFit(records: readonly ScanRecord[], scan: DriftScanRecord): DriftScanRecord {
  const { samples, gaps } = heardIn(records, scan)
  return { ...scan, samples: samples.filter(s => s.out !== true).map(({ s, level }) => ({ s, level })), gaps }
}

/** A scan by taps in one piece. */
export const tapsToFit = (records: readonly ScanRecord[], scan: DriftScanRecord): DriftScanRecord => ({
  ...driftToFit(records, scan),
  marks: marksOf(scan, records),
})

export const crossToFit = (scan: CrossScanRecord): CrossScanRecord => ({
  ...scan,
  samples: scan.samples.filter(s => s.out !== true),
})

export const keepScan = (
  station: StationRecord,
  records: readonly ScanRecord[],
  step: ScanStep,
  model: BookModel = fieldBook,
): Promise<Kept<StoredRecord[]>> =>
  model.keep(
    step,
    records.map(r => entry('scan', station.id, r)),
    { atOnce: step.kind === 'tap' }, // a tap stands in no form
  )

/** A log's levels in parts, the first of them in the scan itself. */
export function inParts(scan: DriftScanRecord, samples: readonly DriftSampleRecord[], size = 200): ScanRecord[] {
  const parts: ScanRecord[] = [{ ...scan, samples: samples.slice(0, size) }]
  for (let k = size; k < samples.length; k += size)
    parts.push({ id: newId(), what: 'part', scan: scan.id, samples: samples.slice(k, k + size) })
  return parts
}

/** The scan was deleted while something was added to it. */
const GONE: StoreFailure = { kind: 'overtaken', message: 'the scan is not in the book any more' }

/** One after the other: two levels timed within one write are both kept. */
let lastTurn: Promise<unknown> = Promise.resolve()
function inTurn<T>(act: () => Promise<T>): Promise<T> {
  const turn = lastTurn.then(act, act)
  lastTurn = turn.catch(() => undefined)
  return turn
}

const fresh = (station: string, model: BookModel): { station: StationRecord; records: ScanRecord[] } | null => {
  const found = model.stations.value.find(s => s.id === station)
  return found === undefined ? null : { station: found, records: scanRecords(found, model) }
}
const isWaiting = (station: string, id: string, model: BookModel): boolean =>
  waitingDrafts(station, model).some(d => d.id === recordId('scan', station, id))

const sizeOf = (part: ScanPartRecord): number => part.samples.length + (part.marks?.length ?? 0)

/** Adds to a drift scan: to its last part while there is room, else to a new one. */
function addToDrift(
  station: string,
  scan: string,
  add: (part: ScanPartRecord) => ScanPartRecord,
  step: ScanStep,
  model: BookModel,
): Promise<Kept<StoredRecord[]>> {
  return inTurn(async () => {
    const here = fresh(station, model)
    if (here === null) return GONE
    const last = partsOf(here.records, scan).at(-1)
    // A part that waits to be written is left as it is: its retry must not undo this write.
    const isOpen = last !== undefined && sizeOf(last) < PART && !isWaiting(station, last.id, model)
    const part = isOpen ? last : { id: newId(), what: 'part' as const, scan, samples: [] }
    return keepScan(here.station, [add(part)], step, model)
  })
}

type OfScan = Pick<Whole, 'id' | 'scale'>
const levelStep = (
  kind: 'signal-level' | 'leave-out-level' | 'take-in-level',
  { id, scale }: OfScan,
  level: number,
): ScanStep => ({ kind, place: 'scan', subject: { scan: id, level, scale } })

/** Keeps a level of a drift scan at once. @param sample  seconds after the scan's start */
export const addLevel = (
  station: string,
  scan: OfScan,
  sample: DriftSampleRecord,
  model: BookModel = fieldBook,
): Promise<Kept<StoredRecord[]>> =>
  addToDrift(
    station,
    scan.id,
    part => ({ ...part, samples: [...part.samples, sample] }),
    levelStep('signal-level', scan, sample.level),
    model,
  )

/** Keeps a tap at once. */
export const addTap = (
  station: string,
  scan: Pick<Whole, 'id' | 'utc'>,
  mark: TapMark,
  model: BookModel = fieldBook,
): Promise<Kept<StoredRecord[]>> => {
  const subject = { scan: scan.id, mark: mark.mark, utcMs: instantMs(scan.utc) + 1000 * mark.s }
  const step: ScanStep = { kind: 'tap', place: 'scan', subject }
  return addToDrift(station, scan.id, part => ({ ...part, marks: [...(part.marks ?? []), mark] }), step, model)
}

/** Keeps a gap: nothing was listened to from one second to another. */
export const addGap = (
  station: string,
  scan: Pick<Whole, 'id'>,
  gap: { fromS: number; toS: number },
  model: BookModel = fieldBook,
): Promise<Kept<StoredRecord[]>> => {
  const step: ScanStep = { kind: 'gap', place: 'scan', subject: { scan: scan.id } }
  return addToDrift(station, scan.id, part => ({ ...part, gaps: [...(part.gaps ?? []), gap] }), step, model)
}

/** Changes a whole record; one that waits to be written is written in its new state instead. */
function change(
  station: string,
  id: string,
  to: (record: ScanRecord) => ScanRecord,
  step: ScanStep,
  model: BookModel,
): Promise<Kept<StoredRecord[]>> {
  return inTurn(async () => {
    const here = fresh(station, model)
    const record = here?.records.find(r => r.id === id)
    if (!here || !record) return GONE
    const next = to(record)
    const faults = checkRecord('scans', next, here.station)
    if (faults.length > 0) return refusedFor(faults)
    const key = recordId('scan', station, id)
    for (const u of model.unsaved.value) if (u.drafts.length === 1 && u.drafts[0]!.id === key) model.discardUnsaved(u)
    return keepScan(here.station, [next], step, model)
  })
}

/** Keeps a level of a cross scan at once. */
export const addCrossLevel = (
  station: string,
  scan: OfScan,
  sample: CrossSampleRecord,
  model: BookModel = fieldBook,
): Promise<Kept<StoredRecord[]>> =>
  change(
    station,
    scan.id,
    r => (r.what === 'cross' ? { ...r, samples: [...r.samples, sample] } : r),
    levelStep('signal-level', scan, sample.level),
    model,
  )

/** Keeps one of two readings at equal levels at once. */
export const addEqual = (
  { id: station, mount }: Pick<StationRecord, 'id' | 'mount'>,
  scan: Pick<Whole, 'id'>,
  mark: EqualMark,
  model: BookModel = fieldBook,
): Promise<Kept<StoredRecord[]>> => {
  const { axis } = mark
  const unit = mount[axis].readout.type === 'degrees' ? 'degrees' : 'counts'
  const step: ScanStep = {
    kind: 'one-side',
    place: 'scan',
    subject: { scan: scan.id, axis, reading: mark[axis], unit },
  }
  return change(
    station,
    scan.id,
    r => (r.what === 'cross' ? { ...r, marks: [...(r.marks ?? []), mark] } : r),
    step,
    model,
  )
}

/** Leaves a level out of the fit, or uses it again. */
export const leaveOutLevel = (
  station: string,
  scan: OfScan,
  level: number,
  at: HeardLevel['at'],
  isOut: boolean,
  model: BookModel = fieldBook,
): Promise<Kept<StoredRecord[]>> =>
  change(
    station,
    at.record,
    r => {
      const turned = <S extends { out?: true }>(list: readonly S[]): S[] =>
        list.map((sample, k) => {
          if (k !== at.index) return sample
          const { out: _, ...rest } = sample
          return (isOut ? { ...rest, out: true } : rest) as S
        })
      return r.what === 'cross' ? { ...r, samples: turned(r.samples) } : { ...r, samples: turned(r.samples) }
    },
    levelStep(isOut ? 'leave-out-level' : 'take-in-level', scan, level),
    model,
  )

/** Keeps how far the target is above cold sky in the beam's centre; null: not known. */
export const setCentre = (
  station: string,
  scan: string,
  centre: DriftScanRecord['centre'] | null,
  model: BookModel = fieldBook,
): Promise<Kept<StoredRecord[]>> =>
  change(
    station,
    scan,
    r => {
      if (r.what !== 'drift') return r
      const { centre: _, ...rest } = r
      return centre ? { ...rest, centre } : rest
    },
    { kind: 'centre', place: 'scan', subject: { scan } },
    model,
  )

/** Deletes a scan and its parts in one step; undo restores them. The sighting made from it stays. */
export const deleteScan = (
  station: StationRecord,
  { id, what }: Whole,
  model: BookModel = fieldBook,
): Promise<Kept<StoredRecord[]>> =>
  model.keep(
    { kind: 'delete-scan', place: 'scan', subject: { id, what } },
    tombstones(model, 'scan', station.id, [id, ...partsOf(knownScans(station.scans), id).map(p => p.id)]),
  )

/** The sighting that was made from a scan. */
export const sightingOfScan = (station: StationRecord, scan: string): SightingRecord | null =>
  station.sightings.find(s => s.scan === scan) ?? null

/** A sighting from a fit: new, or the next revision of the one made from this scan before, whose note and use stay. */
export function sightingFrom(draft: SightingDraft, before: SightingRecord | null): SightingRecord {
  const kept =
    before === null ? {} : { ...(before.use && { use: before.use }), ...(before.note && { note: before.note }) }
  return {
    id: before?.id ?? newId(),
    ...draft,
    lower: rounded(draft.lower, 3),
    upper: rounded(draft.upper, 3),
    ...kept,
  }
}

/** Nearer than this is the same place: too little to affect a solution, and more than a slightly changed solution moves it. */
const SAME_DEG = 0.01
/** The time in which the sky turns by that much. */
const SAME_MS = 2400

/** True where the sighting is about what the fit gives now. The fit depends on the solution, which changes. */
export function saysTheSame(sighting: SightingRecord, draft: SightingDraft): boolean {
  const apart = (k: 'rightDeg' | 'upDeg') => Math.abs((sighting.offset?.[k] ?? 0) - (draft.offset?.[k] ?? 0))
  const [was, is] = [sighting.cov, draft.cov]
  const most = Math.max(was?.rr ?? 0, was?.uu ?? 0)
  return (
    Math.abs(instantMs(sighting.utc) - instantMs(draft.utc)) <= SAME_MS &&
    sighting.lower === rounded(draft.lower, 3) &&
    sighting.upper === rounded(draft.upper, 3) &&
    (['rr', 'ru', 'uu'] as const).every(k => Math.abs((was?.[k] ?? 0) - (is?.[k] ?? 0)) <= 0.1 * most) &&
    apart('rightDeg') <= SAME_DEG &&
    apart('upDeg') <= SAME_DEG
  )
}

/** Keeps what a fit says as a sighting. */
export async function keepScanSighting(
  station: StationRecord,
  scan: Whole,
  draft: SightingDraft,
): Promise<{ id: string; kept: Kept<StoredRecord[]> }> {
  const record = sightingFrom(draft, draft.scan === undefined ? null : sightingOfScan(station, draft.scan))
  const step: ScanStep = { kind: 'sighting-from-scan', place: 'scan', subject: { scan: scan.id, what: scan.what } }
  const kept = await fieldBook.keep(step, [entry('sighting', station.id, record)])
  return { id: record.id, kept }
}

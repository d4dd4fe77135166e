/**
 * A counter that slipped, accepted as the program offers it: how far the mount then misses the Moon, against a fit that is
 * told when it slipped. Degrees.
 */
import { answerFor, builtFor, solveStation } from '../../src/core/fit/solution.ts'
import { withOffer } from '../../src/core/fit/suspects/offer.ts'
import type { Axis, StationRecord } from '../../src/core/records/fieldbook.ts'
import { stationFromRecord } from '../../src/core/records/stationintake.ts'
import { type Book, drawBook, peakSigmaDeg, slip } from './faultybooks.ts'
import { missesDeg, rmsOf } from './judged.ts'
import { checkSky, type ReadoutKind, roundReading, START_MS, utcOf } from './simulate.ts'
import { suspectsOf } from './suspects.ts'
import { readoutAngleDeg } from './truemount.ts'

export interface Accepted {
  seed: number
  found: boolean
  /** The stated interval holds the true instant. */
  holds: boolean
  /** Sightings on the wrong side of the change offered. */
  misplaced: number
  acceptedDeg: number
  toldDeg: number
  /** Good sightings that the fit sets aside after accepting. */
  accused: number
}

/** The rms over the Moon's path with what a fit says now, when the counter shows what it shows after the slip. */
function rmsAfter(book: Book, record: StationRecord, axis: Axis, by: number): number {
  const now = START_MS + 23 * 86_400_000
  const solved = solveStation(stationFromRecord(record))
  const { built } = builtFor(solved, now, solved.station.feeds[0]!)
  // The true mount takes readings without the slip; the counter's own are less by it.
  const there = book.scene
  const slot = axis === 'lower' ? 22 : 23
  built[slot] = built[slot]! + by
  return rmsOf(missesDeg(there, now, built, checkSky(there, now, 6)).filter(x => x !== null))
}

/** @returns null where the draw will not do */
export function acceptedTrial(seed: number, readout: ReadoutKind, marks: boolean, axis: Axis): Accepted | null {
  const kind = axis === 'lower' && readout === 'jack' ? 'az-over-el' : undefined
  const book = drawBook(seed, {
    [axis]: readout,
    ...(kind ? { kind } : {}),
    marks,
    change: false,
    blunder: false,
    n: 16,
    wild: false,
  })
  if (book === null) return null
  const { record, scene } = book
  const times = record.sightings.map(s => Date.parse(s.utc) - 1000 * (s.clockOffsetS ?? 0)).sort((a, b) => a - b)
  const cut = 6 + (seed % 5)
  const atMs = (times[cut - 1]! + times[cut]!) / 2
  const { minReading, maxReading } = record.mount[axis]
  const middle = (minReading + maxReading) / 2
  const slope = readoutAngleDeg(record, axis, middle + 0.5) - readoutAngleDeg(record, axis, middle - 0.5)
  const by = roundReading(
    record,
    axis,
    (scene.chance.sign() * scene.chance.between(10, 30) * peakSigmaDeg(record)) / slope,
  )
  const slipped = slip(record, axis, atMs, by)
  if (slipped.sightings.some(s => !Number.isFinite(readoutAngleDeg(record, axis, s[axis])))) return null
  const [suspect] = suspectsOf(solveStation(stationFromRecord(slipped)))
  const offer = suspect?.offer
  const found = suspect?.kind === 'counter-step' && suspect.axis === axis && offer?.type === 'change'
  const told: StationRecord = {
    ...slipped,
    changes: [
      {
        id: 'told',
        utc: utcOf(Math.round(atMs)),
        what: [`${axis}-zero`],
        ...(record.mount[axis].readout.type === 'jack' ? { slipped: true } : {}),
      },
    ],
  }
  const toldDeg = rmsAfter(book, told, axis, by)
  if (!found) return { seed, found: false, holds: false, misplaced: 0, acceptedDeg: Number.NaN, toldDeg, accused: 0 }
  const mended = withOffer(slipped, offer, 'accepted')
  const offered = Date.parse(offer.utc)
  const [from, to] = suspect.betweenUtc!.map(utc => Date.parse(utc)) as [number, number]
  const { solved } = answerFor(stationFromRecord(mended), START_MS + 23 * 86_400_000)
  return {
    seed,
    found: true,
    holds: from - 300_000 <= atMs && atMs <= to + 300_000,
    misplaced: times.filter(t => t >= offered !== t >= atMs).length,
    acceptedDeg: rmsAfter(book, mended, axis, by),
    toldDeg,
    accused: solved.fit.kept.reduce((a, k) => a + (1 - k), 0),
  }
}

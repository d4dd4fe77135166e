import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { toldGeometry } from '../../../src/core/export/software.ts'
import { skyPoints } from '../../../src/core/fit/skyerror.ts'
import { onPaper, SLOT } from '../../../src/core/mount/slots.ts'
import { landscape, software, solve } from '../../../src/core/questions.ts'
import type { FieldBook, MountKind, StationRecord } from '../../../src/core/records/fieldbook.ts'
import { stationFromRecord } from '../../../src/core/records/stationintake.ts'
import { moonPath } from '../../../src/core/sky/moonpath.ts'
import { bookOf, weir } from '../../helpers/stations.ts'

const DEG = Math.PI / 180
const NOW = '2026-05-01T00:00:00Z'

const turning = (minReading: number, maxReading: number) => ({
  readout: { type: 'degrees' as const },
  minReading,
  maxReading,
})
const record = (kind: MountKind, latDeg = 50): StationRecord => weir(kind, latDeg, turning(-90, 360), turning(-90, 90))
const answered = <T>(answer: { ok: true; value: T } | { ok: false; faults: unknown }): T => {
  if (!answer.ok) throw new Error(JSON.stringify(answer.faults))
  return answer.value
}
const pathFor = (station: ReturnType<typeof stationFromRecord>, built: Float64Array) =>
  skyPoints(station, station.feeds[0]!, built, moonPath(station.site, Date.parse(NOW)))

describe('toldGeometry', () => {
  it('leaves nothing where the mount is off only in what the program is told', () => {
    for (const kind of ['az-over-el', 'el-over-az', 'ha-dec', 'x-y'] as const) {
      const station = stationFromRecord(record(kind))
      const built = onPaper()
      built[SLOT.axisA] = 3 * DEG
      built[SLOT.axisB] = -2 * DEG
      built[SLOT.lowerZero] = 1 * DEG
      built[SLOT.upperZero] = -2 * DEG
      built[SLOT.lowerScale] = 0.01
      built[SLOT.collimation] = 0.8 * DEG
      const { remaining } = toldGeometry(station, built, pathFor(station, built))
      expect(remaining.worst).toBeLessThan(1e-5 * DEG)
    }
  })

  it('a feed 10 mm off (0.4° of beam) costs less than half of that once zeros and offset are set for it', () => {
    const station = stationFromRecord(record('az-over-el'))
    const built = onPaper()
    built[SLOT.feedRight] = 10
    built[SLOT.feedUp] = -10
    const { remaining } = toldGeometry(station, built, pathFor(station, built))
    const beamOff = station.model.bdf * Math.hypot(10, 10) * (1 / station.model.focalLength)
    expect(remaining.rms).toBeLessThan(0.5 * beamOff)
  })
})

describe('software', () => {
  const demo = JSON.parse(
    readFileSync(new URL('../../browser/fixtures/meadow.fieldbook.json', import.meta.url), 'utf8'),
  ) as FieldBook
  const now = '2026-11-25T12:00:00Z'

  it('the more the program takes, the less remains: geometry, virtual site, slope and offset of the demo station', () => {
    const s = answered(software(demo, { now }))
    expect(s.geometry.remains.p95Deg).toBeLessThan(s.virtualSite!.p95Deg + 0.05)
    expect(s.virtualSite!.p95Deg).toBeLessThan(s.slopeOffset.p95Deg)
  })

  it('its dB are those of the solution, by the square of error over beam', () => {
    const s = answered(software(demo, { now }))
    const { sky, controller } = answered(solve(demo, { now }))
    expect(s.whole.echoLossDb).toBeCloseTo(sky.echoLossP95Db, 9)
    expect(s.slopeOffset.p95Deg).toBeCloseTo(controller.slopeOffset.remaining.p95Deg, 9)
    // 0.5 dB at the tolerance: the loss goes by the square.
    const expected = 0.5 * (controller.slopeOffset.remaining.p95Deg / sky.toleranceDeg) ** 2
    expect(s.slopeOffset.echoLossDb).toBeCloseTo(expected, 6)
  })

  it('a mount on paper faces where paper says, its axis level to the right', () => {
    const { geometry } = answered(software(bookOf(record('az-over-el')), { now: NOW }))
    expect(geometry.headingDeg).toBeCloseTo(180, 9)
    expect(geometry.lowerAxis.azDeg).toBeCloseTo(270, 9)
    expect(geometry.lowerAxis.elDeg).toBeCloseTo(0, 9)
  })

  it('the polar axis is told by the end that points up: 35° high in the south at 35° S, 50° high in the north at 50° N', () => {
    const south = answered(software(bookOf(record('ha-dec', -35)), { now: NOW })).geometry
    expect(south.lowerAxis.azDeg).toBeCloseTo(180, 6)
    expect(south.lowerAxis.elDeg).toBeCloseTo(35, 6)
    expect(south.headingDeg).toBeNull()
    const north = answered(software(bookOf(record('ha-dec', 50)), { now: NOW })).geometry
    expect(north.lowerAxis.azDeg % 360).toBeCloseTo(0, 6)
    expect(north.lowerAxis.elDeg).toBeCloseTo(50, 6)
  })
})

describe('what is told of the lower axis', () => {
  it.each(['el-over-az', 'az-over-el', 'x-y'] as const)('on %s is a virtual site and no pole', kind => {
    const { controller } = answered(solve(bookOf(record(kind)), { now: NOW }))
    expect(controller.virtualSite).not.toBeNull()
    expect(controller.pole).toBeNull()
  })
  it('on a polar mount is where its axis points, since an hour-angle program has no azimuth to turn', () => {
    const book = bookOf(record('ha-dec', -35))
    const { controller } = answered(solve(book, { now: NOW }))
    expect(controller.virtualSite).toBeNull()
    expect(controller.pole!.elDeg).toBeCloseTo(35, 6)
    expect(controller.pole!.azDeg).toBeCloseTo(180, 6)
    const s = answered(software(book, { now: NOW }))
    expect(s.virtualSite).toBeNull()
    expect(s.pole!.p95Deg).toBeCloseTo(controller.pole!.remaining.p95Deg, 9)
  })
})

describe('landscape', () => {
  it('what the rms after correction is made of adds up in squares', () => {
    const demo = JSON.parse(
      readFileSync(new URL('../../browser/fixtures/meadow.fieldbook.json', import.meta.url), 'utf8'),
    ) as FieldBook
    const now = '2026-11-25T12:00:00Z'
    const { made } = answered(landscape(demo, { now }))
    const { sky } = answered(solve(demo, { now }))
    expect(Math.hypot(made.openDeg, made.floorDeg)).toBeCloseTo(sky.after.rmsDeg, 8)
    expect(made.floorDeg).toBeCloseTo(sky.floorDeg, 9)
  })
})

import { describe, expect, it } from 'vitest'
import { toldGeometry } from '../../../src/core/carry/told.ts'
import { offsetAtReadings, skyPoints, summary } from '../../../src/core/fit/skyerror.ts'
import { aim } from '../../../src/core/mount/aim.ts'
import { onPaper, SLOT } from '../../../src/core/mount/slots.ts'
import { solve } from '../../../src/core/questions.ts'
import type { MountKind, StationRecord } from '../../../src/core/records/fieldbook.ts'
import { stationFromRecord } from '../../../src/core/records/stationintake.ts'
import { moonPath } from '../../../src/core/sky/moonpath.ts'
import { answered } from '../../helpers/answered.ts'
import { DEG } from '../../helpers/degrees.ts'
import { bookOf, weir } from '../../helpers/stations.ts'

const NOW = '2026-05-01T00:00:00Z'

const turning = (minReading: number, maxReading: number) => ({
  readout: { type: 'degrees' as const },
  minReading,
  maxReading,
})
const record = (kind: MountKind, latDeg = 50): StationRecord => weir(kind, latDeg, turning(-90, 360), turning(-90, 90))
/** The error left by a program that aims with the numbers it was given. */
function leftBy(station: ReturnType<typeof stationFromRecord>, built: Float64Array) {
  const points = skyPoints(station, station.feeds[0]!, built, moonPath(station.site, Date.parse(NOW)))
  const told = toldGeometry(station, built, points)
  return summary(
    points.flatMap(p => {
      const at = aim(station.model, told, 'beam', p.moon.direction)
      const miss = at && offsetAtReadings(station, built, p.moon, at)
      return miss ? [miss[0] ** 2 + miss[1] ** 2] : []
    }),
  )
}

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
      const remaining = leftBy(station, built)
      expect(remaining.worst).toBeLessThan(1e-5 * DEG)
    }
  })

  it('a feed 10 mm off (0.4° of beam) costs less than half of that once zeros and offset are set for it', () => {
    const station = stationFromRecord(record('az-over-el'))
    const built = onPaper()
    built[SLOT.feedRight] = 10
    built[SLOT.feedUp] = -10
    const remaining = leftBy(station, built)
    const beamOff = station.model.bdf * Math.hypot(10, 10) * (1 / station.model.focalLength)
    expect(remaining.rms).toBeLessThan(0.5 * beamOff)
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
  })
})

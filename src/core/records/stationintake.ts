/**
 * A station's records become the core's own shapes: its degrees become radians here, those of its measurements in fit/observations.ts.
 * The book has been checked before (intake.ts); an impossible value throws as a mistake in our code.
 */
import { beamDeviationFactor } from '../dish/optics.ts'
import { modelOf } from '../mount/asbuilt.ts'
import { maskFromPoints } from '../sky/horizonmask.ts'
import type { Target } from '../sky/place.ts'
import { airFrom } from '../sky/refraction.ts'
import { radFromDeg } from '../units.ts'
import { feedFromRecord } from './feeds.ts'
import type { AxisRecord, StationRecord, TargetRecord } from './fieldbook.ts'
import { readoutFromRecord } from './readouts.ts'
import type { Station } from './station.ts'

const axisFromRecord = (r: AxisRecord) => ({
  readout: readoutFromRecord(r.readout),
  minReading: r.minReading,
  maxReading: r.maxReading,
})

export function targetFromRecord(r: TargetRecord): Target {
  switch (r.type) {
    case 'geostationary':
      return { type: 'geostationary', lon: radFromDeg(r.lonDeg) }
    case 'landmark':
      return { type: 'landmark', az: radFromDeg(r.azDeg), el: radFromDeg(r.elDeg) }
    default:
      return r
  }
}

export function stationFromRecord(record: StationRecord): Station {
  const { site, dish, mount, tolerance } = record
  return {
    record,
    site: {
      lat: radFromDeg(site.latDeg),
      lon: radFromDeg(site.lonDeg),
      heightM: site.heightM,
      air: airFrom(site.heightM, site.air),
    },
    model: modelOf({
      kind: mount.kind,
      heading: radFromDeg(mount.headingDeg ?? 0),
      latitude: radFromDeg(site.latDeg),
      offset: mount.kind === 'az-over-el' ? radFromDeg(mount.boresightOffsetDeg ?? 0) : 0,
      lower: axisFromRecord(mount.lower),
      upper: axisFromRecord(mount.upper),
      focalLength: dish.focalRatio * dish.diameterM * 1000,
      bdf: beamDeviationFactor(dish.focalRatio),
    }),
    diameterM: dish.diameterM,
    focalRatio: dish.focalRatio,
    feeds: record.feeds.map(f => feedFromRecord(f, dish.diameterM)),
    tolerance: {
      echoLossDb: tolerance?.echoLossDb ?? 0.5,
      minElevation: tolerance?.minElevationDeg === undefined ? null : radFromDeg(tolerance.minElevationDeg),
      floor: tolerance?.floorDeg === undefined ? null : radFromDeg(tolerance.floorDeg),
    },
    mask: maskFromPoints(record.horizonMask ?? []),
  }
}

/**
 * Any target over days: where it stands without air, seen from any site. Sun, Moon and sources are interpolated (track.ts), so
 * that a month by the minute costs little; satellites and landmarks stand still.
 */
import type { UtcMs } from '../units.ts'
import { enuFromAzEl, type Vec3 } from '../vectors.ts'
import { sourceOfDate } from './almanac.ts'
import { type EarthFixed, enuFromEarthFixed, type SiteFrame, topocentric } from './earthfixed.ts'
import { geostationaryEarthFixed } from './geostationary.ts'
import type { Target } from './place.ts'
import { findSource, SOURCE_NAMES } from './sources.ts'
import { bodyTrack, equatorTrack } from './track.ts'

export interface TargetTrack {
  /** Airless unit vector from a site, and km to the centre (null: source, landmark). RangeError outside the span. */
  from(frame: SiteFrame, utcMs: UtcMs): { direction: Vec3<'Enu'>; distanceKm: number | null }
  /** True where it never moves as seen from the ground. */
  isFixed: boolean
}

/** @throws RangeError  a source that is not in the table; a span that runs backward */
export function targetTrack(target: Target, fromUtcMs: UtcMs, toUtcMs: UtcMs): TargetTrack {
  switch (target.type) {
    case 'sun':
    case 'moon': {
      const at = bodyTrack(target.type, fromUtcMs, toUtcMs)
      return { from: (frame, utcMs) => topocentric(at(utcMs), frame), isFixed: false }
    }
    case 'source': {
      const source = findSource(target.name)
      if (!source) throw new RangeError(`targetTrack: no source "${target.name}"; known are ${SOURCE_NAMES.join(', ')}`)
      const at = equatorTrack(instant => sourceOfDate(source, instant), fromUtcMs, toUtcMs)
      const unit = (v: EarthFixed): EarthFixed => {
        const r = Math.hypot(v.x, v.y, v.z)
        return { x: v.x / r, y: v.y / r, z: v.z / r }
      }
      return {
        from: (frame, utcMs) => ({ direction: enuFromEarthFixed(unit(at(utcMs)), frame), distanceKm: null }),
        isFixed: false,
      }
    }
    case 'geostationary': {
      const point = geostationaryEarthFixed(target.lon)
      return { from: frame => topocentric(point, frame), isFixed: true }
    }
    case 'landmark': {
      const direction = enuFromAzEl(target.az, target.el)
      return { from: () => ({ direction, distanceKm: null }), isFixed: true }
    }
  }
}

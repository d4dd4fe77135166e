/** What of a target's own noise a feed should hear: dB above cold sky. Records in, plain JSON out. */
import { beamwidth } from '../dish/optics.ts'
import type { FeedRecord, StationRecord, TargetRecord } from '../records/fieldbook.ts'
import { findSource } from '../sky/sources.ts'
import { radFromDeg } from '../units.ts'
import { type ExpectedNoise, noiseAnswer } from './noiseanswer.ts'
import { sourceFlux } from './sourceflux.ts'
import { areaOfDish, riseDb, sunHeard } from './yfactor.ts'

export type Heard =
  | {
      kind: 'rise'
      db: number
      systemK: number
      systemFrom: ExpectedNoise['systemFrom']
      /** Of a source. */
      jansky: number | null
      /** Of the Sun: the flux of the last measurement, or the quiet Sun's. */
      fluxFrom: ExpectedNoise['fluxFrom'] | null
    }
  | { kind: 'outside-spectrum' | 'extended' | 'no-flux' }

/** Common practice, no source: a good dish and feed. */
const EFFICIENCY = 0.55
const JANSKY_PER_SFU = 1e4

/** Null: nothing is known of its noise (a satellite, a landmark). @param year decimal */
export function heardOf(station: StationRecord, feed: FeedRecord, target: TargetRecord, year: number): Heard | null {
  if (target.type === 'geostationary' || target.type === 'landmark') return null
  const expected = noiseAnswer(station).expected.find(e => e.feed === feed.id)!
  const { systemK, systemFrom } = expected
  const rise = (
    db: number,
    jansky: number | null = null,
    fluxFrom: ExpectedNoise['fluxFrom'] | null = null,
  ): Heard => ({
    kind: 'rise',
    ...{ db, systemK, systemFrom, jansky, fluxFrom },
  })
  if (target.type === 'moon') return rise(expected.moonDb)
  if (target.type === 'sun')
    return expected.sunDb === null ? { kind: 'no-flux' } : rise(expected.sunDb, null, expected.fluxFrom)
  const flux = sourceFlux(findSource(target.name)?.name ?? target.name, feed.frequencyMHz, year)
  if (flux.kind !== 'flux') return flux
  const { diameterM } = station.dish
  const hpbw = feed.beamwidthDeg === undefined ? beamwidth(feed.frequencyMHz, diameterM) : radFromDeg(feed.beamwidthDeg)
  const ear = { frequency: feed.frequencyMHz, areaM2: areaOfDish(diameterM, EFFICIENCY), hpbw }
  const kelvin = sunHeard(flux.jansky / JANSKY_PER_SFU, ear, radFromDeg(flux.discDeg), 0)
  return rise(riseDb(kelvin, systemK), flux.jansky)
}

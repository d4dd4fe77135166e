/** The other end of a contact: only its place is known. */
import type { Site } from '../sky/place.ts'
import { defaultAir } from '../sky/refraction.ts'
import { radFromDeg } from '../units.ts'

/** A place on Earth, degrees, east positive. */
export interface PlaceJson {
  latDeg: number
  lonDeg: number
}

/** At sea level, in standard air. */
export const partnerSite = ({ latDeg, lonDeg }: PlaceJson): Site => ({
  lat: radFromDeg(latDeg),
  lon: radFromDeg(lonDeg),
  heightM: 0,
  air: defaultAir(0),
})

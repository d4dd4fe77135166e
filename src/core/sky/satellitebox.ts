/**
 * How far a geostationary satellite strays, as seen from a place. Satellites are kept within a box of ±0.1° of longitude and
 * latitude about their place (common practice; many are kept closer, old ones on inclined orbits much less so). Radians.
 */
import { wrapPi } from '../angles.ts'
import { type Rad, radFromDeg } from '../units.ts'
import { angleBetween, azElFromEnu } from '../vectors.ts'
import { type SiteFrame, topocentric } from './earthfixed.ts'
import { geostationaryEarthFixed } from './geostationary.ts'

export const BOX: Rad = radFromDeg(0.1)

export interface SatelliteBox {
  /** How far it wanders to either side. */
  az: Rad
  el: Rad
  /** On the sky, from the middle to the furthest corner. */
  most: Rad
}

/** Airless: the air lifts the whole box alike. @param half half a side of the box */
export function satelliteBox(lon: Rad, frame: SiteFrame, half: Rad = BOX): SatelliteBox {
  const seen = (dLon: Rad, lat: Rad) => topocentric(geostationaryEarthFixed(lon + dLon, lat), frame).direction
  const middle = seen(0, 0)
  const centre = azElFromEnu(middle)
  const box = { az: 0, el: 0, most: 0 }
  for (const dLon of [-half, half])
    for (const lat of [-half, half]) {
      const corner = seen(dLon, lat)
      const { az, el } = azElFromEnu(corner)
      box.az = Math.max(box.az, Math.abs(wrapPi(az - centre.az)))
      box.el = Math.max(box.el, Math.abs(el - centre.el))
      box.most = Math.max(box.most, angleBetween(middle, corner))
    }
  return box
}

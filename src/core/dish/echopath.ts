/** What an echo loses on its way by the distance alone, against the mean one. */

/** The mean distance of the Moon, for which losses are quoted. */
export const MEAN_DISTANCE_KM = 384_400

/**
 * Out and back an echo falls with the fourth power of the distance: 40 log10(d/384 400 km), dB. Negative: it comes back stronger.
 * @param distanceKm  from the station, not from the Earth's centre; above 0
 */
export const echoPathDb = (distanceKm: number): number => 40 * Math.log10(distanceKm / MEAN_DISTANCE_KM)

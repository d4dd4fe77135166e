/**
 * Where the station stands, by the phone. Fixes are gathered while somebody watches and averaged, each weighted by
 * 1/accuracy². The errors of neighbouring fixes are nearly the same, so averaging does not shrink the stated radius.
 * (100 m on the ground moves the Moon by 0.001°: good enough is soon reached.)
 */

/** One fix. Accuracies are 95 % radii, metres (W3C Geolocation). */
export interface Fix {
  latDeg: number
  lonDeg: number
  accuracyM: number
  /** Above the ellipsoid or the sea, which one depends on the phone: 20 to 50 m apart. */
  heightM: number | null
  heightAccuracyM: number | null
}

export interface Position {
  latDeg: number
  lonDeg: number
  /** 95 %: the best fix's own, or the scatter of the fixes if that is more. */
  radiusM: number
  heightM: number | null
  heightAccuracyM: number | null
  fixes: number
  best: Fix
}

const METRES_PER_DEG = 111_320
/** For a round scatter: 95 % radius over the rms distance, √(-ln 0.05). */
const R95_OVER_RMS = Math.sqrt(-Math.log(0.05))
const turned = (deg: number): number => ((((deg + 180) % 360) + 360) % 360) - 180

/** The weighted mean of at least one fix; right across ±180° of longitude. */
export function meanPosition(fixes: readonly Fix[]): Position {
  const best = fixes.reduce((a, b) => (b.accuracyM < a.accuracyM ? b : a))
  const east = METRES_PER_DEG * Math.max(0.01, Math.cos((best.latDeg * Math.PI) / 180))
  const weightOf = (accuracyM: number) => 1 / Math.max(1, accuracyM) ** 2
  let weight = 0
  let lat = 0
  let lon = 0
  for (const fix of fixes) {
    const w = weightOf(fix.accuracyM)
    weight += w
    lat += w * (fix.latDeg - best.latDeg)
    lon += w * turned(fix.lonDeg - best.lonDeg)
  }
  lat /= weight
  lon /= weight
  let scatter = 0
  for (const fix of fixes) {
    const north = METRES_PER_DEG * (fix.latDeg - best.latDeg - lat)
    scatter += weightOf(fix.accuracyM) * (north ** 2 + (east * (turned(fix.lonDeg - best.lonDeg) - lon)) ** 2)
  }
  const high = fixes.filter(fix => fix.heightM !== null)
  const heightWeight = (fix: Fix) => weightOf(fix.heightAccuracyM ?? 50)
  const heightSum = high.reduce((a, fix) => a + heightWeight(fix), 0)
  return {
    latDeg: best.latDeg + lat,
    lonDeg: turned(best.lonDeg + lon),
    radiusM: Math.max(best.accuracyM, R95_OVER_RMS * Math.sqrt(scatter / weight)),
    heightM: high.length === 0 ? null : high.reduce((a, fix) => a + heightWeight(fix) * fix.heightM!, 0) / heightSum,
    heightAccuracyM: high.length === 0 ? null : Math.min(...high.map(fix => fix.heightAccuracyM ?? 50)),
    fixes: fixes.length,
    best,
  }
}

export type PositionTold =
  | { kind: 'position'; position: Position }
  /** 'denied' by the person or the system; 'no-fix' yet: it may still come. */
  | { kind: 'denied' | 'no-fix' | 'absent' }

/** Watches until the returned function is called; 60 to 120 s are plenty. */
export function watchPosition(tell: (told: PositionTold) => void): () => void {
  if (typeof navigator === 'undefined' || !navigator.geolocation) {
    tell({ kind: 'absent' })
    return () => {}
  }
  const fixes: Fix[] = []
  const id = navigator.geolocation.watchPosition(
    ({ coords }) => {
      fixes.push({
        latDeg: coords.latitude,
        lonDeg: coords.longitude,
        accuracyM: coords.accuracy,
        heightM: coords.altitude,
        heightAccuracyM: coords.altitudeAccuracy,
      })
      tell({ kind: 'position', position: meanPosition(fixes) })
    },
    error => {
      if (error.code === error.PERMISSION_DENIED) tell({ kind: 'denied' })
      else if (fixes.length === 0) tell({ kind: 'no-fix' })
    },
    { enableHighAccuracy: true, maximumAge: 0, timeout: 120_000 },
  )
  return () => navigator.geolocation.clearWatch(id)
}

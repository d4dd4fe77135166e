/**
 * The phone's compass: the magnetic heading of its top edge, degrees from magnetic north through east. Two ways that
 * browsers have: `webkitCompassHeading` beside the orientation event, or an event of its own that is tied to magnetic
 * north. 0 is a heading like any other. Steel nearby deflects either by tens of degrees, and neither reports it.
 */

export interface CompassSeen {
  headingDeg: number
  /** As the phone says, degrees; null where it does not. */
  accuracyDeg: number | null
}

interface WithCompass extends DeviceOrientationEvent {
  webkitCompassHeading?: number
  webkitCompassAccuracy?: number
}

const isAngle = (x: unknown): x is number => typeof x === 'number' && Number.isFinite(x)

/**
 * Heading of the top edge from angles that are tied to north; null where the phone stands too steep for it to have one.
 * Source: W3C Device Orientation, appendix A.2: the top edge points east by -cos b sin a, north by cos b cos a.
 */
export function headingFromAngles(alphaDeg: number, betaDeg: number): number | null {
  if (Math.abs(Math.cos((betaDeg * Math.PI) / 180)) < 0.5) return null
  // Overhead the top edge points back: beyond ±90° its horizontal part turns round.
  const turned = Math.abs(betaDeg) > 90 ? 180 : 0
  return (((turned - alphaDeg) % 360) + 360) % 360
}

/** The heading in an event; null where it is not tied to north. */
export function compassOf(event: Event): CompassSeen | null {
  const e = event as WithCompass
  if (isAngle(e.webkitCompassHeading)) {
    const accuracy = isAngle(e.webkitCompassAccuracy) ? e.webkitCompassAccuracy : null
    return accuracy !== null && accuracy < 0 ? null : { headingDeg: e.webkitCompassHeading, accuracyDeg: accuracy }
  }
  if (e.type !== 'deviceorientationabsolute' && e.absolute !== true) return null
  if (!isAngle(e.alpha) || !isAngle(e.beta)) return null
  const headingDeg = headingFromAngles(e.alpha, e.beta)
  return headingDeg === null ? null : { headingDeg, accuracyDeg: null }
}

/** Listens until the returned function is called. */
export function watchCompass(tell: (seen: CompassSeen) => void): () => void {
  if (typeof window === 'undefined') return () => {}
  const listener = (event: Event) => {
    const seen = compassOf(event)
    if (seen !== null) tell(seen)
  }
  const kinds = ['deviceorientationabsolute', 'deviceorientation']
  for (const kind of kinds) window.addEventListener(kind, listener)
  return () => {
    for (const kind of kinds) window.removeEventListener(kind, listener)
  }
}

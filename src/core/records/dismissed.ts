/**
 * Suspects that the person has dismissed. Remembered in the station record, so that it travels with the
 * field book; a suspect comes back when its evidence has grown by half, or when it is about another time.
 */
import type { StationRecord } from './fieldbook.ts'
import { instantMs } from './instant.ts'
import { ABOUT_NOTHING } from './schemas/dismissed.ts'
import type { Suspect } from './solution.ts'

/** Evidence (χ²) must grow by this factor before a dismissed suspect stands again. */
const MUCH = 1.5

/** "counter-step upper 2026-10-10T… 2026-10-12T… 31": kind, axis (or feed), between, evidence. */
export const dismissalOf = (s: Suspect): string =>
  [
    s.kind,
    aboutWhat(s),
    s.betweenUtc?.[0] ?? ABOUT_NOTHING,
    s.betweenUtc?.[1] ?? ABOUT_NOTHING,
    Math.round(s.deltaChi2),
  ].join(' ')

/** Words are parted by blanks: a feed's id may hold some. */
const aboutWhat = (s: Suspect): string => s.axis ?? (s.feed === undefined ? ABOUT_NOTHING : encodeURIComponent(s.feed))

/** What is remembered at a station. */
export const dismissedAt = (station: StationRecord): readonly string[] => station.dismissed ?? []

/** True when this remembered text is about this suspect, whatever its evidence. */
function isAbout(text: string, s: Suspect): boolean {
  const [kind, what, from = ABOUT_NOTHING, to = ABOUT_NOTHING] = text.split(' ')
  if (kind !== s.kind || what !== aboutWhat(s)) return false
  if (!s.betweenUtc || from === ABOUT_NOTHING) return true
  const [a, b] = [instantMs(from), instantMs(to)]
  return a <= instantMs(s.betweenUtc[1]) && instantMs(s.betweenUtc[0]) <= b
}

/** Dismissed, and not much stronger than it was then. */
export const isDismissed = (s: Suspect, dismissed: readonly string[]): boolean =>
  dismissed.some(text => isAbout(text, s) && s.deltaChi2 <= MUCH * Number(text.split(' ')[4]))

/** The station with this suspect dismissed, or (`back`) looked at again. */
export function withDismissed(station: StationRecord, s: Suspect, back = false): StationRecord {
  const others = dismissedAt(station).filter(text => !isAbout(text, s))
  return { ...station, dismissed: back ? others : [...others, dismissalOf(s)] }
}

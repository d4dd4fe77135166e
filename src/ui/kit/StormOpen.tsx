/** A way back to the check after a storm that is under way, from whatever was just measured. */
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { instantMs } from '../../core/records/instant.ts'
import { openStormCheck } from '../../state/feed.ts'
import { SecondaryButton } from './buttons.tsx'
import { go } from './navigation.ts'
import { WAYS } from './ways.ts'

/** @param utc  of what is shown: only what was measured since belongs to it */
export function StormOpen({ station, utc }: { station: StationRecord; utc: string }) {
  const check = openStormCheck(station)
  if (check === null || instantMs(utc) < instantMs(check.utc)) return null
  return <SecondaryButton onPress={() => go('sight', 'storm', 'see', check.id)}>{WAYS.stormOpen}</SecondaryButton>
}

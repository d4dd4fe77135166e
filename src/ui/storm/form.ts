/** The two sightings that the form of a storm check says: the peak, and the shadow of the same pose and time. Pure. */
import type { SightingRecord, StationRecord } from '../../core/records/fieldbook.ts'
import { type ReadForm, readSightForm, type SightField, type SightForm } from '../kit/sighting/form.ts'

const NO_SHADOW = {
  view: null,
  shadowSide: null,
  shadowAcross: '',
  shadowHeight: null,
  shadowAlong: '',
} as const

type ReadStorm =
  | { kind: 'whole'; peak: SightingRecord; shadow: SightingRecord | null }
  | { kind: 'not-yet'; missing: SightField[] | 'shadow' }

/** The peak and the shadow of the same pose and time. @param sees  whether there was a shadow; '': not said yet */
export function readStorm(
  form: SightForm,
  sees: 'yes' | 'no' | '',
  station: StationRecord,
  ids: { peak: string; shadow: string },
): ReadStorm {
  const sun = { ...form, target: 'sun' as const, sigma: '' }
  const peak: ReadForm = readSightForm(
    { ...sun, ...NO_SHADOW, sigma: form.sigma, method: 'signal-peak' },
    station,
    { id: ids.peak },
    null,
  )
  if (peak.kind === 'not-yet') return peak
  if (sees === '') return { kind: 'not-yet', missing: 'shadow' }
  if (sees === 'no') return { kind: 'whole', peak: peak.record, shadow: null }
  const shadow = readSightForm({ ...sun, method: 'shadow' }, station, { id: ids.shadow }, null)
  return shadow.kind === 'not-yet' ? shadow : { kind: 'whole', peak: peak.record, shadow: shadow.record }
}

/** What a tap on the dish's face writes into the fields of a shadow, and how much of the face the picture holds. mm from the vertex. Pure. */
import type { StationRecord } from '../../../core/records/fieldbook.ts'
import { MM_PER_INCH } from '../../../core/units.ts'
import type { Spot } from '../dishface-geometry.ts'
import type { LengthUnit } from '../format.ts'
import { typedNumber } from '../numberfield.ts'
import type { SightForm } from '../sighting/form.ts'
import { typedUtc } from '../utcfield.ts'
import { seen } from './words.ts'

/** Whether enough is known to say where the shadow should fall: to within a quarter of the dish. */
export const isExpected = (pose: { sigmaRightMm: number; sigmaUpMm: number }, dish: StationRecord['dish']): boolean =>
  Math.max(pose.sigmaRightMm, pose.sigmaUpMm) <= 250 * dish.diameterM

/** How far off the Sun may be, degrees, for the large picture of the middle to hold its shadow. */
const REACH_DEG = 6

/** What the picture of the face must hold, mm from the vertex; half the dish at most. */
export function faceReach(dish: StationRecord['dish'], whole: boolean): number {
  const radius = 500 * dish.diameterM
  const f = 1000 * dish.diameterM * dish.focalRatio
  const middle = f * Math.tan((REACH_DEG * Math.PI) / 180) + (dish.feedDiameterMm ?? 0) / 2
  return whole ? radius : Math.min(radius, middle)
}

/** The fields that say a place of the dish as it is seen from there. */
export function fieldsOfSpot(
  spot: Spot,
  view: 'behind' | 'front',
  unit: LengthUnit,
): Pick<SightForm, 'shadowSide' | 'shadowAcross' | 'shadowHeight' | 'shadowAlong'> {
  const right = seen(spot, view).rightMm
  const size = (mm: number) =>
    typedNumber(unit === 'mm' ? Math.abs(mm) : Number((Math.abs(mm) / MM_PER_INCH).toFixed(2)))
  return {
    shadowSide: right < 0 ? 'left' : 'right',
    shadowAcross: size(right),
    shadowHeight: spot.upMm < 0 ? 'below' : 'above',
    shadowAlong: size(spot.upMm),
  }
}

/**
 * A tap: the place, and the time where none was typed by hand.
 *
 * @param taken  the time that the last tap wrote; what differs from it was typed
 */
export function tapped(
  form: SightForm,
  spot: Spot,
  utcMs: number,
  taken: string | null,
): { change: Partial<SightForm>; taken: string | null } {
  if (form.view === null) return { change: {}, taken }
  const place = fieldsOfSpot(spot, form.view, form.unit)
  if (form.utc.trim() !== '' && form.utc !== taken) return { change: place, taken }
  const utc = typedUtc(new Date(utcMs).toISOString())
  return { change: { ...place, utc }, taken: utc }
}

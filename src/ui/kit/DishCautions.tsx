/** The cautions of work in and behind the dish: the Sun with the figure for this dish, the transmitter, the ladder. */
import { sunAtFocus } from '../../core/dish/paraboloid.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { bowlOf, type DishAnswer, measuresOf } from '../../core/tape/measured.ts'
import { fixed, type LengthUnit, lengthUnit, measuredLength, NBSP } from './format.ts'
import { Notice } from './Notice.tsx'

const DISH_CAUTION = {
  /** With the figure for this dish. */
  sun: (sun: DishAnswer['sun'], unit: LengthUnit) =>
    `Turn the dish away from the Sun first. Bright, this one puts about ${fixed(sun.powerW / 1000, 1)}${NBSP}kW of sunlight on a spot ${measuredLength(sun.imageMm, null, unit).text} wide, ${fixed(Number(sun.suns.toPrecision(1)), 0)} times full sun: no hand and no face at the focus.`,
  transmit: 'Transmitter off and made safe before hands go near the feed.',
  ladder: 'Ladder on firm ground with somebody to hold it; the dish propped, so that it cannot move.',
} as const

/** Before anybody climbs or reaches in: the Sun with the figure for this dish, the transmitter, the ladder. */
export function DishCautions({ station, reach }: { station: StationRecord; reach: boolean }) {
  return (
    <Notice state="caution">
      <p>{DISH_CAUTION.sun(sunAtFocus(bowlOf(station, measuresOf(station))), lengthUnit())}</p>
      {reach && <p>{DISH_CAUTION.transmit}</p>}
      <p>{DISH_CAUTION.ladder}</p>
    </Notice>
  )
}

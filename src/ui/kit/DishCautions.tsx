/** The cautions of work in and behind the dish: the Sun with the figure for this dish, the transmitter, the ladder. */
import { sunAtFocus } from '../../core/dish/paraboloid.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { bowlOf, type DishAnswer, measuresOf } from '../../core/tape/measured.ts'
import { Caution } from './Caution.tsx'
import { fixed, type LengthUnit, lengthUnit, measuredLength, NBSP } from './format.ts'

const DISH_CAUTION = {
  /** With the figure for this dish. */
  sun: (sun: DishAnswer['sun'], unit: LengthUnit) =>
    `Pointed at the Sun, this dish puts up to ${fixed(sun.powerW / 1000, 1)}${NBSP}kW of sunlight on a spot ${measuredLength(sun.imageMm, null, unit).text} wide, ${fixed(Number(sun.suns.toPrecision(1)), 0)} times full sun.`,
  gravest: 'Sunlight burns at the focus: turn the dish off the Sun before you reach in.',
  transmit: 'Transmitter off and locked off before hands go near the feed.',
  ladder:
    'Ladder on firm ground with somebody to hold it; the dish propped so that it cannot move. Not in wind, not alone. Local rules come first.',
} as const

/** Shown before anybody climbs or reaches in. */
export function DishCautions({ station, reach }: { station: StationRecord; reach: boolean }) {
  return (
    <Caution
      act={reach ? 'reach' : 'bowl'}
      gravest={DISH_CAUTION.gravest}
      more={[
        DISH_CAUTION.sun(sunAtFocus(bowlOf(station, measuresOf(station))), lengthUnit()),
        ...(reach ? [DISH_CAUTION.transmit] : []),
        DISH_CAUTION.ladder,
      ]}
    />
  )
}

/** Shapes that records of several lists share: sides, axes, targets, who arrived from where. */
import * as v from 'valibot'
import { AXES, SIDES } from '../../mount/names.ts'
import { RANGES } from '../ranges.ts'
import { fields, measure, name, object, oneOf, opt, variant, within } from '../shapes.ts'

export const SideSchema = oneOf(SIDES)
export const AxisNameSchema = oneOf(AXES)
/** From which side the readings were reached. */
export const ArrivedSchema = object({ lower: opt(SideSchema), upper: opt(SideSchema) })

export const METHODS = ['signal-peak', 'shadow', 'optical', 'cross-scan', 'drift-scan'] as const

export const TargetSchema = variant(
  'type',
  [
    fields({ type: v.literal('moon') }),
    fields({ type: v.literal('sun') }),
    fields({ type: v.literal('source'), name: name() }),
    fields({ type: v.literal('geostationary'), lonDeg: within(RANGES.lonDeg) }),
    fields({ type: v.literal('landmark'), azDeg: within(RANGES.azimuthDeg), elDeg: within(RANGES.elevationDeg) }),
  ],
  'must be "moon", "sun", "source", "geostationary" or "landmark"',
)

/** Seconds that a device's clock was ahead. */
export const clockOffsetS = () => opt(measure())

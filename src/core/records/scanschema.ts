/**
 * The shapes of scans for the intake. A record whose `what` is another, or missing, is not ours to judge: it is
 * kept as it is.
 */
import * as v from 'valibot'
import { SCAN_WHATS } from './scans.ts'
import { fields, flag, list, measure, name, object, oneOf, positive, text, utc, variant } from './shapes.ts'

const opt = v.optional
const SideSchema = oneOf(['+', '-'])
const gaps = opt(list(object({ fromS: measure(), toS: measure() })))
const marks = opt(list(object({ s: measure(), mark: oneOf(['rising', 'same', 'missed', 'peak']) })))
const out = opt(v.literal(true, 'must be true, or not there'))
const samples = list(object({ s: measure(), level: measure(), out }))

const scanFields = (TargetSchema: v.GenericSchema) => ({
  id: name(),
  utc: utc(),
  clockOffsetS: opt(measure()),
  target: TargetSchema,
  feed: opt(text()),
  scale: oneOf(['dB', 'linear']),
  how: opt(oneOf(['typed', 'tapped', 'pasted'])),
  note: opt(text()),
  wind: opt(text()),
})

const known = (schema: v.GenericSchema) => {
  const anything = v.unknown()
  return v.lazy(input =>
    typeof input === 'object' && input !== null && SCAN_WHATS.has((input as { what?: unknown }).what)
      ? schema
      : anything,
  )
}

export const scanSchema = (TargetSchema: v.GenericSchema) =>
  known(
    variant(
      'what',
      [
        fields({
          ...scanFields(TargetSchema),
          what: v.literal('drift'),
          lower: measure(),
          upper: measure(),
          arrivedFrom: opt(object({ lower: opt(SideSchema), upper: opt(SideSchema) })),
          samples,
          gaps,
          marks,
          centre: opt(object({ riseDb: positive(100), sigmaDb: positive(20) })),
          expect: opt(object({ peakUtc: utc(), widthS: positive(1e6) })),
        }),
        fields({
          ...scanFields(TargetSchema),
          what: v.literal('cross'),
          samples: list(
            object({
              s: measure(),
              axis: oneOf(['lower', 'upper']),
              lower: measure(),
              upper: measure(),
              level: measure(),
              from: opt(SideSchema),
              out,
            }),
          ),
          marks: opt(
            list(
              object({
                s: measure(),
                axis: oneOf(['lower', 'upper']),
                lower: measure(),
                upper: measure(),
                pair: measure(),
              }),
            ),
          ),
          plan: opt(
            object({
              points: positive(1000),
              step: positive(100),
              from: SideSchema,
              axes: list(oneOf(['lower', 'upper'])),
              both: opt(flag()),
            }),
          ),
        }),
        fields({ id: name(), what: v.literal('part'), scan: name(), samples, gaps, marks }),
      ],
      'must be "drift", "cross" or "part"',
    ),
  )

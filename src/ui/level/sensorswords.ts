/** Words of the page that shows what this phone's tilt sensors really deliver. Pure. */
import { degFromRad } from '../../core/units.ts'
import type { Attitude, AttitudeFacts, AttitudeState } from '../../state/level.ts'
import { fixed, NBSP } from '../kit/format.ts'
import { attitudeWords } from '../kit/sensorwords.ts'

export const SENSORS = {
  title: 'What the sensors deliver',
  why: 'Turn the phone slowly about each of its edges for ten seconds. Only what has been seen is listed.',
  toReady: 'Back to Ready',
  toLevel: 'Use the phone as a level',
  copy: 'Copy this page',
  orientation: 'Orientation',
  motion: 'Acceleration',
  state: 'State',
} as const

const STATES: Readonly<Record<AttitudeState, string>> = {
  delivering: 'delivering',
  silent: 'silent: nothing moves',
  starting: 'starting',
  'not-asked': 'not asked',
  denied: 'denied',
  absent: 'absent',
  'null-events': 'empty events',
  hidden: 'page hidden',
  stale: 'silent since the page came back',
  disagree: 'the two sources disagree',
  'sign-unknown': 'sign not known',
}

interface SensorRow {
  label: string
  value: string
}
const unknown = 'not seen yet'

/** Everything in rows, under its heads. */
export function sensorRows(attitude: Attitude | null, facts: AttitudeFacts): { head: string; rows: SensorRow[] }[] {
  const { orientation: o, motion: m } = facts
  const rate = (hz: number | null) => (hz === null ? unknown : `${fixed(hz, 0)} a second`)
  const events = (s: typeof o) =>
    s.nullEvents > 0 ? `${fixed(s.events, 0)}, and ${fixed(s.nullEvents, 0)} empty` : fixed(s.events, 0)
  const step = (x: number | null, unit: string) =>
    x === null ? unknown : x < 0.0005 ? `below 0.001${unit}` : `${fixed(x, 3)}${unit}`
  return [
    {
      head: SENSORS.state,
      rows: [
        { label: 'Sensors', value: attitude ? STATES[attitude.state] : 'starting' },
        { label: 'Permission', value: facts.mustAsk ? permissionWords(facts.permission) : 'not needed' },
        { label: 'Used', value: attitude?.source ?? 'nothing' },
        ...(attitude?.source ? [{ label: 'Step as an angle', value: `${fixed(degFromRad(attitude.step), 3)}°` }] : []),
      ],
    },
    {
      head: SENSORS.orientation,
      rows: [
        { label: 'Events', value: events(o) },
        { label: 'Smallest step seen', value: step(o.step, '°') },
        { label: 'Rate', value: rate(o.rateHz) },
      ],
    },
    {
      head: SENSORS.motion,
      rows: [
        { label: 'Events', value: events(m) },
        { label: 'Smallest step seen', value: step(m.step, `${NBSP}m/s²`) },
        { label: 'Rate', value: rate(m.rateHz) },
        {
          label: 'Shows when lying on its back',
          value: facts.sign === null ? unknown : facts.sign > 0 ? '+ on z' : '− on z',
        },
        {
          label: 'Difference from orientation',
          value: facts.apart === null ? unknown : `${fixed(degFromRad(facts.apart), 2)}°`,
        },
      ],
    },
  ]
}

const permissionWords = (permission: AttitudeFacts['permission']): string =>
  permission === 'not-asked' ? 'may have to be asked for; not asked yet' : permission

/** The page as text, for a report. */
export const sensorText = (parts: readonly { head: string; rows: SensorRow[] }[], agent: string): string =>
  [...parts.flatMap(p => [p.head, ...p.rows.map(r => `  ${r.label}: ${r.value}`)]), agent].join('\n')

/** What to do where nothing is delivered. */
export const sensorAdvice = (attitude: Attitude | null): string | null =>
  attitude === null ? null : (attitudeWords(attitude.state)?.text ?? null)

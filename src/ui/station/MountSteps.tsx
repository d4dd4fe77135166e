/** The mount and its two axes: what kind, what each axis shows, and how far it goes. */
import { useState } from 'preact/hooks'
import { phiAtZeroFromPose } from '../../core/readout/jackzero.ts'
import { angleFromReading } from '../../core/readout/readout.ts'
import type { Axis, MountKind } from '../../core/records/fieldbook.ts'
import { readoutFromRecord } from '../../core/records/station.ts'
import { degFromRad, radFromDeg } from '../../core/units.ts'
import { degrees, NBSP } from '../format.ts'
import { parseNumber, typedAngle } from '../numberfield.ts'
import { Second } from '../parts/buttons.tsx'
import { NumberField } from '../parts/fields.tsx'
import { Notice } from '../parts/Notice.tsx'
import { Text } from '../parts/numbers.tsx'
import { DialDrawingPlot } from '../plots/DialDrawingPlot.tsx'
import { MOUNT_WORDS } from '../words/common.ts'
import { axisOf, FIELDS, MOUNT, READOUT, ZERO_OF } from '../words/station.ts'
import { valueAt } from './DishSteps.tsx'
import { ChoiceAt, type FormView, NumberAt, textAt } from './FormFields.tsx'
import { JackFigure } from './JackFigure.tsx'

const KINDS = Object.keys(MOUNT_WORDS) as MountKind[]
export const kindOf = (view: FormView): MountKind | null =>
  KINDS.find(kind => kind === textAt(view, 'mount.kind')) ?? null

export function MountStep({ view }: { view: FormView }) {
  const kind = kindOf(view)
  const latDeg = valueAt(view, 'site.latDeg') ?? 45
  const turned = kind === 'az-over-el' || kind === 'x-y'
  const headingDeg = turned ? valueAt(view, 'mount.headingDeg') : null
  const offsetDeg = kind === 'az-over-el' ? valueAt(view, 'mount.boresightOffsetDeg') : null
  return (
    <>
      <ChoiceAt
        view={view}
        path="mount.kind"
        label={MOUNT.kind}
        long
        options={KINDS.map(value => ({ value, word: MOUNT_WORDS[value], note: MOUNT.notes[value] }))}
      />
      {kind && (
        <>
          <DialDrawingPlot
            drawing={{
              kind,
              latDeg,
              ...(headingDeg !== null && { headingDeg }),
              ...(offsetDeg !== null && { offsetDeg }),
            }}
            showWords
          />
          {turned && (
            <NumberAt
              view={view}
              path="mount.headingDeg"
              hint={`${MOUNT.headingOf[kind]} ${FIELDS['mount.headingDeg']!.hint}`}
            />
          )}
          {kind === 'az-over-el' && <NumberAt view={view} path="mount.boresightOffsetDeg" />}
        </>
      )}
    </>
  )
}

export function AxisStep({ view, axis }: { view: FormView; axis: Axis }) {
  const kind = kindOf(view)
  const name = axisOf(kind, axis)
  const at = (field: string) => `mount.${axis}.readout.${field}`
  const type = textAt(view, at('type'))
  return (
    <>
      <ChoiceAt
        view={view}
        path={at('type')}
        label={READOUT.type}
        long
        options={(['degrees', 'linear-counts', 'jack'] as const).map(value => ({
          value,
          word: READOUT.types[value],
          note: READOUT.notes[value],
        }))}
      />
      {kind && <Text quiet>{ZERO_OF[kind][axis]}</Text>}
      {type === 'linear-counts' && (
        <>
          <NumberAt view={view} path={at('zeroCounts')} />
          <NumberAt view={view} path={at('countsPerDeg')} />
        </>
      )}
      {type === 'jack' && <JackFields view={view} axis={axis} name={name} />}
      {type !== '' && (
        <>
          <h2>{READOUT.limits}</h2>
          <Text quiet>{type === 'degrees' ? READOUT.limitsDegrees : READOUT.limitsCounts}</Text>
          <NumberAt view={view} path={`mount.${axis}.minReading`} />
          <NumberAt view={view} path={`mount.${axis}.maxReading`} />
          {type !== 'degrees' && <Span view={view} axis={axis} name={name} />}
        </>
      )}
    </>
  )
}

function JackFields({ view, axis, name }: { view: FormView; axis: Axis; name: string }) {
  const at = (field: string) => `mount.${axis}.readout.${field}`
  const words = READOUT.directions(name)
  return (
    <>
      <JackFigure
        base={valueAt(view, at('baseArmMm'))}
        rod={valueAt(view, at('rodArmMm'))}
        length={valueAt(view, at('lengthAtReadingZeroMm'))}
      />
      <NumberAt view={view} path={at('baseArmMm')} />
      <NumberAt view={view} path={at('rodArmMm')} />
      <NumberAt view={view} path={at('lengthAtReadingZeroMm')} />
      <NumberAt view={view} path={at('countsPerMm')} />
      <ChoiceAt
        view={view}
        path={at('direction')}
        label={READOUT.direction}
        options={[
          { value: '1', word: words['1'] },
          { value: '-1', word: words['-1'] },
        ]}
      />
      <FindPivotAngle view={view} axis={axis} />
      <NumberAt view={view} path={at('phiAtAngleZeroDeg')} />
    </>
  )
}

/** The angle at the pivot from one place where the axis is known: most people cannot measure it between bolts. */
function FindPivotAngle({ view, axis }: { view: FormView; axis: Axis }) {
  const [reading, setReading] = useState('')
  const [angle, setAngle] = useState('')
  const at = (field: string) => `mount.${axis}.readout.${field}`
  const counts = parseNumber(reading, { form: 'count', unit: 'counts', min: -1e9, max: 1e9 })
  const stands = parseNumber(angle, { form: 'angle', min: -360, max: 360 })
  const direction = textAt(view, at('direction'))
  const [baseArm, rodArm, lengthAtReadingZero, countsPerMm] = [
    'baseArmMm',
    'rodArmMm',
    'lengthAtReadingZeroMm',
    'countsPerMm',
  ].map(field => valueAt(view, at(field)))
  const whole = baseArm && rodArm && lengthAtReadingZero && countsPerMm && direction !== ''
  const phi =
    whole && counts.kind === 'value' && stands.kind === 'value'
      ? phiAtZeroFromPose(
          { baseArm, rodArm, lengthAtReadingZero, countsPerMm, direction: direction === '-1' ? -1 : 1 },
          counts.value,
          radFromDeg(stands.value),
        )
      : undefined
  const phiDeg = typeof phi === 'number' ? Number(degFromRad(phi).toFixed(3)) : null
  return (
    <section class="book-section">
      <h2>{READOUT.zero}</h2>
      <Text quiet>{READOUT.zeroWhy}</Text>
      <NumberField
        label={READOUT.zeroReading}
        kind={{ form: 'count', unit: 'counts', min: -1e9, max: 1e9 }}
        text={reading}
        onText={setReading}
        hint=" "
      />
      <NumberField
        label={READOUT.zeroAngle}
        kind={{ form: 'angle', min: -360, max: 360 }}
        text={angle}
        onText={setAngle}
        hint=" "
      />
      {phi === null && <Notice state="look-out">{READOUT.noTriangle}</Notice>}
      {phiDeg !== null && (
        <Second onPress={() => view.write(at('phiAtAngleZeroDeg'), typedAngle(phiDeg))}>
          {READOUT.take(degrees(phiDeg, 3))}
        </Second>
      )}
    </section>
  )
}

/** What the axis would do between its limits: a wrong sign or zero shows here at once. */
function Span({ view, axis, name }: { view: FormView; axis: Axis; name: string }) {
  const at = (field: string) => `mount.${axis}.readout.${field}`
  const min = valueAt(view, `mount.${axis}.minReading`)
  const max = valueAt(view, `mount.${axis}.maxReading`)
  const number = (field: string) => valueAt(view, at(field))
  const jack = textAt(view, at('type')) === 'jack'
  const fields = jack
    ? ['baseArmMm', 'rodArmMm', 'lengthAtReadingZeroMm', 'countsPerMm', 'phiAtAngleZeroDeg']
    : ['zeroCounts', 'countsPerDeg']
  const values = Object.fromEntries(fields.map(field => [field, number(field)]))
  const direction = textAt(view, at('direction'))
  const missing = Object.values(values).some(value => value === null) || (jack && direction === '')
  if (min === null || max === null || missing || values.countsPerDeg === 0) return null
  const readout = readoutFromRecord(
    (jack
      ? { type: 'jack', ...values, direction: direction === '-1' ? -1 : 1 }
      : { type: 'linear-counts', ...values }) as Parameters<typeof readoutFromRecord>[0],
  )
  const ends = [min, max].map(reading => angleFromReading(readout, reading))
  const [from, to] = ends.map(end => (end.kind === 'angle' ? degrees(degFromRad(end.angle), 1) : null))
  if (!from || !to) return <Notice state="stop">{READOUT.open}</Notice>
  return (
    <Notice state="next" word={READOUT.makes}>
      {READOUT.span(name, from.replace(' ', NBSP), to.replace(' ', NBSP))}
    </Notice>
  )
}

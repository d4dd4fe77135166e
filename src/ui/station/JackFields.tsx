/** What is taped of a jack, and the angle at its pivot from one place that is known. */
import { useState } from 'preact/hooks'
import { phiAtZeroFromPose } from '../../core/readout/jackzero.ts'
import type { Axis } from '../../core/records/fieldbook.ts'
import { RANGES } from '../../core/records/ranges.ts'
import { degFromRad, radFromDeg } from '../../core/units.ts'
import { SecondaryButton } from '../kit/buttons.tsx'
import { NumberField } from '../kit/fields.tsx'
import { degrees } from '../kit/format.ts'
import { JackFigure } from '../kit/JackFigure.tsx'
import { Notice } from '../kit/Notice.tsx'
import { bounds, parseNumber, typedAngle } from '../kit/numberfield.ts'
import { Text } from '../kit/numbers.tsx'
import { valueAt } from './DishSteps.tsx'
import { ChoiceAt, type FormView, NumberAt, textAt } from './FormFields.tsx'
import { READOUT } from './words.ts'

export function JackFields({ view, axis, name }: { view: FormView; axis: Axis; name: string }) {
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
  const counts = parseNumber(reading, { form: 'count', unit: 'counts', ...bounds(RANGES.measure) })
  const stands = parseNumber(angle, { form: 'angle', ...bounds(RANGES.circleDeg) })
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
        kind={{ form: 'count', unit: 'counts', ...bounds(RANGES.measure) }}
        text={reading}
        onText={setReading}
        hint=" "
      />
      <NumberField
        label={READOUT.zeroAngle}
        kind={{ form: 'angle', ...bounds(RANGES.circleDeg) }}
        text={angle}
        onText={setAngle}
        hint=" "
      />
      {phi === null && <Notice state="look-out">{READOUT.noTriangle}</Notice>}
      {phiDeg !== null && (
        <SecondaryButton onPress={() => view.write(at('phiAtAngleZeroDeg'), typedAngle(phiDeg))}>
          {READOUT.take(degrees(phiDeg, 3))}
        </SecondaryButton>
      )}
    </section>
  )
}

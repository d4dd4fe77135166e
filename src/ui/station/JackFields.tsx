/** What is taped of a jack, and the angle at its pivot from one place that is known. */
import { useEffect, useState } from 'preact/hooks'
import { phiAtZeroFromPose } from '../../core/readout/jackzero.ts'
import type { Axis } from '../../core/records/fieldbook.ts'
import { RANGES } from '../../core/records/ranges.ts'
import { degFromRad, radFromDeg } from '../../core/units.ts'
import { Caution } from '../kit/Caution.tsx'
import { NumberField } from '../kit/fields.tsx'
import { degrees } from '../kit/format.ts'
import { HelpLine } from '../kit/HelpLine.tsx'
import { JackFigure, type JackPart } from '../kit/JackFigure.tsx'
import { CAUTIONS } from '../kit/mount/words.ts'
import { Notice } from '../kit/Notice.tsx'
import { bounds, parseNumber, typedAngle } from '../kit/numberfield.ts'
import { Text } from '../kit/numbers.tsx'
import { valueAt } from './DishSteps.tsx'
import { ChoiceAt, type FormView, NumberAt, textAt } from './FormFields.tsx'
import { READOUT } from './words.ts'

export function JackFields({ view, axis, name }: { view: FormView; axis: Axis; name: string }) {
  const at = (field: string) => `mount.${axis}.readout.${field}`
  const words = READOUT.directions(name)
  const [typed, setTyped] = useState<JackPart | null>(null)
  const field = (part: JackPart, path: string) => (
    <div onFocusIn={() => setTyped(part)}>
      <NumberAt view={view} path={at(path)} />
    </div>
  )
  return (
    <>
      <Caution {...CAUTIONS.tape} />
      <div class="jack-kept">
        <JackFigure
          base={valueAt(view, at('baseArmMm'))}
          rod={valueAt(view, at('rodArmMm'))}
          length={valueAt(view, at('lengthAtReadingZeroMm'))}
          typed={typed}
        />
      </div>
      {field('length', 'lengthAtReadingZeroMm')}
      {field('base', 'baseArmMm')}
      {field('rod', 'rodArmMm')}
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
  // What is found fills its field at once.
  const found = phiDeg === null ? null : typedAngle(phiDeg)
  useEffect(() => {
    if (found !== null && textAt(view, at('phiAtAngleZeroDeg')) !== found) view.write(at('phiAtAngleZeroDeg'), found)
  }, [found])
  return (
    <HelpLine word={READOUT.zero}>
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
      {phiDeg !== null && <Text quiet>{READOUT.taken(degrees(phiDeg, 1))}</Text>}
    </HelpLine>
  )
}

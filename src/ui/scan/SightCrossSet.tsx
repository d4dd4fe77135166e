/** What to set for a step of a cross scan, and what the dish shows where it stopped elsewhere. */
import { AXES } from '../../core/mount/names.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { NumberField } from '../kit/fields.tsx'
import { HelpLine } from '../kit/HelpLine.tsx'
import { Notice } from '../kit/Notice.tsx'
import { BigNumber, Sentence, Text } from '../kit/numbers.tsx'
import { axisName, dialled } from '../kit/phrases.ts'
import { readingKind, readingLabel, readingText } from '../kit/readings.ts'
import { type CrossLevelForm, type CrossSetting, type CrossStep, otherAxis } from './form.ts'
import { CROSS } from './words.ts'

/** The one number, and what to do with the other axis. */
export function ToSet(p: { station: StationRecord; step: CrossStep; setting: CrossSetting; k: number; n: number }) {
  const { step, setting } = p
  const { mount } = p.station
  const other = otherAxis(step.axis)
  const { value, unit } = dialled(mount, step.axis, setting[step.axis])
  const rest = readingText(mount, other, setting[other])
  return (
    <>
      {!setting.holds && <Sentence strong>{CROSS.also(axisName(mount, other), rest)}</Sentence>}
      {setting.approach !== null && (
        <Sentence>
          {CROSS.approach(axisName(mount, step.axis), readingText(mount, step.axis, setting.approach), step.from)}
        </Sentence>
      )}
      <BigNumber
        size={1}
        axis={step.axis}
        label={CROSS.set(axisName(mount, step.axis))}
        value={value}
        {...(unit !== '' && { unit })}
      />
      <Text>{CROSS.step(p.k, p.n, step.from)}</Text>
      {setting.holds && <Text>{CROSS.hold(axisName(mount, other), rest)}</Text>}
      {!setting.inside && <Notice state="look-out">{CROSS.beyond}</Notice>}
    </>
  )
}

/** For a dish that stopped elsewhere than it was meant to. */
export function ShowsOther(p: {
  station: StationRecord
  form: CrossLevelForm
  setting: CrossSetting
  set: (change: Partial<CrossLevelForm>) => void
}) {
  const { mount } = p.station
  return (
    <HelpLine word={CROSS.other}>
      {AXES.map(axis => (
        <NumberField
          key={axis}
          label={readingLabel(mount, axis)}
          kind={readingKind(mount, axis)}
          text={p.form[axis]}
          signButton={mount[axis].minReading < 0}
          onText={text => p.set({ [axis]: text })}
          hint={CROSS.otherHint(readingText(mount, axis, p.setting[axis]))}
        />
      ))}
    </HelpLine>
  )
}

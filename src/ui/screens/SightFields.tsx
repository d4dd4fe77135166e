/** The fields of a sighting: each takes the form and what to change in it. What is suggested stands beside, never in it. */
import type { Axis, MountRecord, StationRecord } from '../../core/records/fieldbook.ts'
import type { HalfSighting } from '../../core/records/halfsightings.ts'
import { SOURCE_NAMES } from '../../core/sky/sources.ts'
import { defaultSigmaDeg, shadowMeaning } from '../../state/sightings.ts'
import { degrees } from '../format.ts'
import { parseNumber } from '../numberfield.ts'
import { Second } from '../parts/buttons.tsx'
import { Choice } from '../parts/Choice.tsx'
import { NumberField, TextField, UtcField } from '../parts/fields.tsx'
import { HelpLine } from '../parts/HelpLine.tsx'
import { Notice } from '../parts/Notice.tsx'
import { Name, Sentence, Text } from '../parts/numbers.tsx'
import { DishFacePlot } from '../plots/DishFacePlot.tsx'
import { KINDS, methodsFor, readingKind, type SightForm, shadowOf, targetOf, typedReading } from '../sightform.ts'
import { axisName, METHOD_WORDS, readingDecimals } from '../words/common.ts'
import {
  axisWord,
  CAUTION,
  keptReading,
  METHOD_BUTTONS,
  readingLabel,
  readingText,
  SIGHT,
  shadowSentence,
} from '../words/sight.ts'

export interface FieldsProps {
  form: SightForm
  set: (change: Partial<SightForm>) => void
}

/** Which source, satellite or landmark. */
export function TargetParts({ form, set }: FieldsProps) {
  if (form.target === 'source')
    return (
      <Choice
        label={SIGHT.source}
        long
        value={form.source}
        options={SOURCE_NAMES.map(value => ({ value, word: value }))}
        onPick={source => set({ source })}
      />
    )
  if (form.target === 'geostationary')
    return (
      <NumberField
        label={SIGHT.satellite}
        kind={KINDS.longitude}
        text={form.satelliteLon}
        onText={satelliteLon => set({ satelliteLon })}
      />
    )
  if (form.target !== 'landmark') return null
  return (
    <>
      <NumberField
        label={SIGHT.landmarkAz}
        kind={KINDS.azimuth}
        text={form.landmarkAz}
        onText={landmarkAz => set({ landmarkAz })}
      />
      <NumberField
        label={SIGHT.landmarkEl}
        kind={KINDS.elevation}
        text={form.landmarkEl}
        onText={landmarkEl => set({ landmarkEl })}
      />
    </>
  )
}

/** The target, whole: for a sighting typed in afterwards, or an edit. */
export function TargetFields({ form, set }: FieldsProps) {
  return (
    <>
      <Choice
        label={SIGHT.target}
        value={form.target}
        options={[
          { value: 'moon', word: SIGHT.moon },
          { value: 'sun', word: SIGHT.sun },
          { value: 'source', word: SIGHT.targetOthers.source },
          { value: 'geostationary', word: SIGHT.targetOthers.geostationary },
          { value: 'landmark', word: SIGHT.targetOthers.landmark },
        ]}
        onPick={value => set({ target: value })}
      />
      <TargetParts form={form} set={set} />
    </>
  )
}

export interface ReadingFieldProps extends FieldsProps {
  station: StationRecord
  axis: Axis
  dialled: HalfSighting['dialled']
  missing?: boolean
  /** What the book's rules say of it. */
  fault?: string | undefined
}

/** One axis's reading: what the dish shows. */
export function ReadingField({ form, set, station, axis, dialled, missing, fault }: ReadingFieldProps) {
  const { mount } = station
  const kind = readingKind(mount, axis)
  const parsed = parseNumber(form[axis], kind)
  const suggested = dialled?.[axis]
  const { minReading, maxReading } = mount[axis]
  const stop =
    parsed.kind !== 'value'
      ? null
      : parsed.value < minReading
        ? minReading
        : parsed.value > maxReading
          ? maxReading
          : null
  const isFar =
    parsed.kind === 'value' &&
    suggested !== undefined &&
    Math.abs(parsed.value - suggested) > 0.2 * (maxReading - minReading)
  return (
    <div class="sight-reading">
      <NumberField
        label={readingLabel(mount, axis)}
        kind={kind}
        text={form[axis]}
        signButton={minReading < 0}
        onText={text => set({ [axis]: text })}
        missing={missing ? 'What does the dish show?' : null}
        hint={
          suggested === undefined
            ? SIGHT.stops(keptReading(mount, axis, minReading), keptReading(mount, axis, maxReading))
            : SIGHT.dialledHint(readingText(mount, axis, suggested))
        }
      />
      {suggested !== undefined && form[axis] === '' && (
        <Second onPress={() => set({ [axis]: readingNumber(mount, axis, suggested) })}>
          {SIGHT.asDialled(readingText(mount, axis, suggested))}
        </Second>
      )}
      {fault && (
        <Notice state="stop" word="Not possible">
          {fault}
        </Notice>
      )}
      {stop !== null && !fault && (
        <Notice state="look-out">{SIGHT.beyondStop(axisName(mount, axis), keptReading(mount, axis, stop))}</Notice>
      )}
      {isFar && stop === null && (
        <Notice state="look-out">
          {SIGHT.farFromDialled(axisWord(mount, axis), readingText(mount, axis, suggested))}
        </Notice>
      )}
    </div>
  )
}

/** As it stood on the screen when the time was stamped: whole counts, tenths of a degree. */
const readingNumber = (mount: MountRecord, axis: Axis, value: number): string =>
  typedReading(mount, axis, Number(value.toFixed(readingDecimals(mount, axis))))

export function MethodField({ form, set, guessed }: FieldsProps & { guessed: boolean }) {
  const methods = methodsFor(form.target)
  const scan = form.method === 'cross-scan' || form.method === 'drift-scan' ? [form.method] : []
  return (
    <>
      <Choice
        label={SIGHT.method}
        value={form.method}
        options={[...methods, ...scan].map(value => ({ value, word: METHOD_BUTTONS[value] ?? METHOD_WORDS[value] }))}
        onPick={method => set({ method })}
        hint={guessed && form.method !== null ? SIGHT.methodGuess : undefined}
      />
      {form.target === 'sun' && form.method === 'shadow' && <Notice state="caution">{CAUTION.shadow}</Notice>}
      {form.target === 'sun' && form.method === 'optical' && <Notice state="caution">{CAUTION.tubeSun}</Notice>}
    </>
  )
}

export function FeedField({ form, set, station }: FieldsProps & { station: StationRecord }) {
  if (station.feeds.length < 2 || form.method === 'optical') return null
  return (
    <Choice
      label={SIGHT.feed}
      value={form.feed}
      long
      options={station.feeds.map(f => ({ value: f.id, word: <Name>{f.name}</Name> }))}
      onPick={feed => set({ feed })}
    />
  )
}

/** Where the feed's shadow fell, as seen; and what it means. */
export function ShadowFields({ form, set, station }: FieldsProps & { station: StationRecord }) {
  if (form.method !== 'shadow') return null
  const kind = KINDS[form.unit]
  const shadow = shadowOf(form)
  const sigma = parseNumber(form.sigma, KINDS.sigma)
  const meaning = shadow && shadowMeaning(station, shadow, sigma.kind === 'value' ? sigma.value : undefined)
  const words = meaning && shadowSentence(meaning)
  const { diameterM, feedDiameterMm } = station.dish
  return (
    <>
      <Choice
        label={SIGHT.view}
        value={form.view}
        options={[
          { value: 'behind', word: SIGHT.behind },
          { value: 'front', word: SIGHT.front },
        ]}
        onPick={view => set({ view })}
        hint={SIGHT.shadowHow}
      />
      <DishFacePlot
        face={{
          size: 300,
          view: form.view ?? 'behind',
          diameterMm: 1000 * diameterM,
          ...(feedDiameterMm !== undefined && { feedDiameterMm }),
          shadow,
          unit: form.unit,
        }}
      />
      <NumberField
        label={SIGHT.shadowAcross}
        kind={kind}
        text={form.shadowAcross}
        onText={shadowAcross => set({ shadowAcross })}
        hint="The distance alone."
      />
      <Choice
        label={SIGHT.shadowAcrossSide}
        value={form.shadowSide}
        options={[
          { value: 'left', word: SIGHT.left },
          { value: 'right', word: SIGHT.right },
        ]}
        onPick={shadowSide => set({ shadowSide })}
      />
      <NumberField
        label={SIGHT.shadowAlong}
        kind={kind}
        text={form.shadowAlong}
        onText={shadowAlong => set({ shadowAlong })}
        hint="The distance alone."
      />
      <Choice
        label={SIGHT.shadowAlongSide}
        value={form.shadowHeight}
        options={[
          { value: 'above', word: SIGHT.above },
          { value: 'below', word: SIGHT.below },
        ]}
        onPick={shadowHeight => set({ shadowHeight })}
      />
      {words && (
        <div role="status">
          <Sentence>
            {words.lead}
            <strong>{words.off}</strong>
            {words.tail}
          </Sentence>
        </div>
      )}
    </>
  )
}

/** Everything that may stay as it is. */
export function MoreFields({
  form,
  set,
  station,
  withTime,
  onNow,
}: FieldsProps & { station: StationRecord; withTime: boolean; onNow?: () => void }) {
  const { mount } = station
  const sides = (['', '+', '-'] as const).map(value => ({ value, word: SIGHT.sides[value] }))
  const usual = form.method && form.method !== 'cross-scan' && form.method !== 'drift-scan' ? form.method : null
  return (
    <HelpLine word={SIGHT.more}>
      {withTime && <TimeField form={form} set={set} {...(onNow && { onNow })} />}
      <NumberField
        label={SIGHT.clockOffset}
        kind={KINDS.clockOffset}
        text={form.clockOffset}
        onText={clockOffset => set({ clockOffset })}
        hint={SIGHT.clockOffsetHint}
      />
      <Choice
        label={SIGHT.arrived(axisName(mount, 'lower'))}
        long
        options={sides}
        value={form.lowerSide}
        onPick={lowerSide => set({ lowerSide })}
      />
      <Choice
        label={SIGHT.arrived(axisName(mount, 'upper'))}
        long
        options={sides}
        value={form.upperSide}
        onPick={upperSide => set({ upperSide })}
      />
      <NumberField
        label={SIGHT.sigma}
        kind={KINDS.sigma}
        text={form.sigma}
        onText={sigma => set({ sigma })}
        hint={
          usual
            ? SIGHT.sigmaHint(degrees(defaultSigmaDeg(station, usual, form.feed ?? undefined), 2))
            : 'May stay empty.'
        }
      />
      {form.method !== 'shadow' && (
        <>
          <Text quiet>{SIGHT.offsetHint}</Text>
          <NumberField
            label={SIGHT.offsetRight}
            kind={KINDS.offset}
            text={form.offsetRight}
            onText={offsetRight => set({ offsetRight })}
            hint="May stay empty."
          />
          <NumberField
            label={SIGHT.offsetUp}
            kind={KINDS.offset}
            text={form.offsetUp}
            onText={offsetUp => set({ offsetUp })}
            hint="May stay empty."
          />
        </>
      )}
      <TextField label={SIGHT.wind} text={form.wind} onText={wind => set({ wind })} />
      <TextField label={SIGHT.note} long text={form.note} onText={note => set({ note })} />
    </HelpLine>
  )
}

export function TimeField({ form, set, onNow }: FieldsProps & { onNow?: () => void }) {
  return <UtcField label={SIGHT.utc} text={form.utc} onText={utc => set({ utc })} {...(onNow && { onNow })} />
}

/** True while nothing says what was looked at. */
export const lacksTarget = (form: SightForm): boolean => targetOf(form) === null

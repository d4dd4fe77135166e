/** How the target was found: by which method, with which feed, and where the shadow fell. */
import { isScanMethod } from '../../../core/fit/methods.ts'
import type { StationRecord } from '../../../core/records/fieldbook.ts'
import { isOffsetFed } from '../../../core/records/guesses.ts'
import { METHOD_WORDS } from '../../../core/records/methodwords.ts'
import { shadowMeaning } from '../../../state/sightings.ts'
import { Caution } from '../Caution.tsx'
import { Choice } from '../Choice.tsx'
import { DishFacePlot } from '../DishFacePlot.tsx'
import { FeedChoice } from '../FeedChoice.tsx'
import { NumberField } from '../fields.tsx'
import { KINDS } from '../kinds.ts'
import { Notice } from '../Notice.tsx'
import { parseNumber } from '../numberfield.ts'
import { Sentence } from '../numbers.tsx'
import { methodsFor, shadowOf } from './form.ts'
import type { FieldsProps } from './TargetFields.tsx'
import { CAUTION, METHOD_BUTTONS, SIGHTING, shadowSentence } from './words.ts'

export function MethodField({
  form,
  set,
  station,
  guessed,
}: FieldsProps & { station: StationRecord; guessed: boolean }) {
  // A shadow that is in the book already can still be edited.
  const noShadow = isOffsetFed(station) && form.method !== 'shadow'
  const methods = methodsFor(form.target).filter(method => !(noShadow && method === 'shadow'))
  const scan = form.method !== null && isScanMethod(form.method) ? [form.method] : []
  return (
    <>
      <Choice
        label={SIGHTING.method}
        value={form.method}
        options={[...methods, ...scan].map(value => ({ value, word: METHOD_BUTTONS[value] ?? METHOD_WORDS[value] }))}
        onPick={method => set({ method })}
        hint={guessed && form.method !== null ? SIGHTING.methodGuess : undefined}
      />
      <MethodCaution form={form} />
    </>
  )
}

/** The caution for this method. */
export function MethodCaution({ form }: Pick<FieldsProps, 'form'>) {
  if (form.target === 'moon' && form.method === 'signal-peak') return <Caution {...CAUTION.moon} />
  if (form.target !== 'sun') return null
  if (form.method === 'shadow') return <Notice state="caution">{CAUTION.shadow}</Notice>
  return form.method === 'optical' ? <Notice state="caution">{CAUTION.tubeSun}</Notice> : null
}

export function FeedField({ form, set, station }: FieldsProps & { station: StationRecord }) {
  if (form.method === 'optical') return null
  return <FeedChoice station={station} label={SIGHTING.feed} value={form.feed} long onPick={feed => set({ feed })} />
}

/** Where the feed's shadow fell, as seen; and what it means. */
export function ShadowFields({ form, set, station }: FieldsProps & { station: StationRecord }) {
  if (form.method !== 'shadow') return null
  const shadow = shadowOf(form)
  const sigma = parseNumber(form.sigma, KINDS.sigma)
  const meaning = shadow && shadowMeaning(station, shadow, sigma.kind === 'value' ? sigma.value : undefined)
  const words = meaning && shadowSentence(meaning)
  const { diameterM, feedDiameterMm } = station.dish
  return (
    <>
      <Choice
        label={SIGHTING.view}
        value={form.view}
        options={[
          { value: 'behind', word: SIGHTING.behind },
          { value: 'front', word: SIGHTING.front },
        ]}
        onPick={view => set({ view })}
        hint={SIGHTING.shadowHow}
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
      <ShadowByHand form={form} set={set} />
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

/** How far it fell to which side, typed. */
export function ShadowByHand({ form, set }: FieldsProps) {
  const kind = KINDS[form.unit]
  return (
    <>
      <NumberField
        label={SIGHTING.shadowAcross}
        kind={kind}
        text={form.shadowAcross}
        onText={shadowAcross => set({ shadowAcross })}
        hint="The distance alone."
      />
      <Choice
        label={SIGHTING.shadowAcrossSide}
        value={form.shadowSide}
        options={[
          { value: 'left', word: SIGHTING.left },
          { value: 'right', word: SIGHTING.right },
        ]}
        onPick={shadowSide => set({ shadowSide })}
      />
      <NumberField
        label={SIGHTING.shadowAlong}
        kind={kind}
        text={form.shadowAlong}
        onText={shadowAlong => set({ shadowAlong })}
        hint="The distance alone."
      />
      <Choice
        label={SIGHTING.shadowAlongSide}
        value={form.shadowHeight}
        options={[
          { value: 'above', word: SIGHTING.above },
          { value: 'below', word: SIGHTING.below },
        ]}
        onPick={shadowHeight => set({ shadowHeight })}
      />
    </>
  )
}

/** The fields of a noise record: each takes the form and what to change in it. */
import { fluxBetween, standardAround } from '../../core/noise/flux.ts'
import type { FeedRecord } from '../../core/records/fieldbook.ts'
import { Choice } from '../kit/Choice.tsx'
import { NumberField } from '../kit/fields.tsx'
import { HelpLine } from '../kit/HelpLine.tsx'
import { Notice } from '../kit/Notice.tsx'
import { parseNumber } from '../kit/numberfield.ts'
import { Text } from '../kit/numbers.tsx'
import { fluxFields, levelKind, NOISE_KINDS, type NoiseForm } from './form.ts'
import { fluxSays, NOISE } from './words.ts'

export interface NoiseFieldsProps {
  form: NoiseForm
  set: (change: Partial<NoiseForm>) => void
}

export function HowMuch({ form, set }: NoiseFieldsProps) {
  return (
    <>
      <Choice
        label={NOISE.how}
        value={form.how}
        options={[
          { value: 'rise', word: NOISE.rise },
          { value: 'levels', word: NOISE.levels },
        ]}
        onPick={how => set({ how })}
      />
      {form.how === 'rise' ? (
        <NumberField
          label={NOISE.riseLabel}
          kind={NOISE_KINDS.rise}
          text={form.rise}
          hint={NOISE.riseHint}
          signButton={false}
          onText={rise => set({ rise })}
        />
      ) : (
        <>
          <Choice
            label={NOISE.unit}
            value={form.unit}
            options={[
              { value: 'dB', word: NOISE.unitDb },
              { value: 'power', word: NOISE.unitPower, note: NOISE.unitNote },
            ]}
            onPick={unit => set({ unit })}
          />
          <NumberField label={NOISE.hot} kind={levelKind(form)} text={form.hot} hint=" " onText={hot => set({ hot })} />
          <NumberField
            label={NOISE.cold}
            kind={levelKind(form)}
            text={form.cold}
            hint={NOISE.riseHint}
            onText={cold => set({ cold })}
          />
        </>
      )}
    </>
  )
}

export function SunFlux({ form, set, feed }: NoiseFieldsProps & { feed: FeedRecord }) {
  const at = fluxFields(feed)
  const typed = [form.low, form.high]
  const given = at.flatMap((frequencyMHz, i) => {
    const parsed = parseNumber(typed[i] ?? '', NOISE_KINDS.sfu)
    return parsed.kind === 'value' && parsed.value > 0 ? [{ frequencyMHz, sfu: parsed.value }] : []
  })
  const flux = given.length === at.length && at.length > 0 ? fluxBetween(feed.frequencyMHz, given) : null
  return (
    <>
      <Choice
        label={NOISE.flux}
        value={form.fluxFrom}
        options={[
          ...(standardAround(feed.frequencyMHz) === null ? [] : [{ value: 'two' as const, word: NOISE.fluxTwo }]),
          { value: 'own' as const, word: NOISE.fluxOwn(feed) },
          { value: 'ten-cm' as const, word: NOISE.fluxTen },
        ]}
        onPick={fluxFrom => set({ fluxFrom })}
      />
      {form.fluxFrom === 'ten-cm' && <Notice state="look-out">{NOISE.tenCm}</Notice>}
      {form.fluxFrom === 'own' && (
        <NumberField
          label={NOISE.fluxAt(feed.frequencyMHz)}
          kind={{ ...NOISE_KINDS.sfu, unit: 'sfu' }}
          text={form.sfu}
          hint={NOISE.fluxHint}
          onText={sfu => set({ sfu })}
        />
      )}
      {form.fluxFrom === 'two' &&
        at.map((frequency, i) => (
          <NumberField
            key={frequency}
            label={NOISE.fluxAt(frequency)}
            kind={NOISE_KINDS.sfu}
            text={typed[i] ?? ''}
            hint={NOISE.fluxHint}
            onText={text => set(i === 0 ? { low: text } : { high: text })}
          />
        ))}
      {form.fluxFrom === 'two' && flux !== null && (
        <Text quiet>{flux.kind === 'flux' ? NOISE.fluxMade(flux.sfu, feed) : fluxSays(flux)}</Text>
      )}
    </>
  )
}

export function Temperatures({ form, set }: NoiseFieldsProps) {
  if (form.of === 'sun') return null
  if (form.of === 'moon')
    return (
      <NumberField
        label={NOISE.brightness}
        kind={NOISE_KINDS.kelvin}
        text={form.brightness}
        hint={NOISE.brightnessHint}
        onText={brightness => set({ brightness })}
      />
    )
  return (
    <>
      <NumberField
        label={NOISE.hotK[form.of]}
        kind={NOISE_KINDS.kelvin}
        text={form.hotK}
        hint={NOISE.hotHint}
        onText={hotK => set({ hotK })}
      />
      <NumberField
        label={NOISE.coldK}
        kind={NOISE_KINDS.kelvin}
        text={form.coldK}
        hint={NOISE.coldHint}
        onText={coldK => set({ coldK })}
      />
    </>
  )
}

export function Losses({ form, set, elDeg }: NoiseFieldsProps & { elDeg: number | null }) {
  const isDisc = form.of === 'sun' || form.of === 'moon'
  return (
    <HelpLine word={NOISE.losses}>
      {isDisc && (
        <>
          <NumberField
            label={NOISE.zenith}
            kind={NOISE_KINDS.loss}
            text={form.zenith}
            hint={NOISE.zenithHint}
            onText={zenith => set({ zenith })}
          />
          <NumberField
            label={NOISE.el}
            kind={NOISE_KINDS.el}
            text={form.el}
            hint={NOISE.elHint(elDeg)}
            onText={el => set({ el })}
          />
          <NumberField
            label={NOISE.loss}
            kind={NOISE_KINDS.loss}
            text={form.loss}
            hint={NOISE.lossHint}
            onText={loss => set({ loss })}
          />
        </>
      )}
      <NumberField
        label={NOISE.sigma}
        kind={NOISE_KINDS.sigma}
        text={form.sigma}
        hint={NOISE.sigmaHint}
        onText={sigma => set({ sigma })}
      />
      <NumberField
        label={NOISE.gain}
        kind={NOISE_KINDS.gain}
        text={form.gain}
        hint={NOISE.gainHint}
        onText={gain => set({ gain })}
      />
    </HelpLine>
  )
}

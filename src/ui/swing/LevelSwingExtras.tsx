/** Beside a swing's positions: a second way of fastening, and how fine the instrument is. */
import { ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { NumberField } from '../kit/fields.tsx'
import { fixed } from '../kit/format.ts'
import { HelpLine } from '../kit/HelpLine.tsx'
import { KINDS } from '../kit/kinds.ts'
import { MOUNT } from '../kit/mount/words.ts'
import { Text } from '../kit/numbers.tsx'
import { type SwingForm, type SwingResult, USUAL_SWING, usualSpread, waiting } from './form.ts'
import { TurnedAboutPicture } from './SwingPicture.tsx'
import { SWING } from './words.ts'

/** A second way of fastening, once the first has its positions. */
export function TurnAbout({
  form,
  swing,
  set,
}: {
  form: SwingForm
  swing: SwingResult
  set: (c: Partial<SwingForm>) => void
}) {
  const begun = form.clampings.length > 1 && waiting(form) + form.clampings.at(-1)!.length > 0
  if (form.clampings.at(-1)!.length === 0 && form.clampings.length > 1)
    return (
      <>
        <Text>{`${SWING.turnedBegun} ${SWING.turnAboutWhy}`}</Text>
        <TurnedAboutPicture />
      </>
    )
  if (swing.kind !== 'swung' || (begun && waiting(form) > 0)) return null
  return (
    <>
      <Text>{SWING.turnAboutWhy}</Text>
      <TurnedAboutPicture />
      <ButtonRow>
        <SecondaryButton onPress={() => set({ clampings: [...form.clampings, []] })}>{SWING.turnAbout}</SecondaryButton>
      </ButtonRow>
    </>
  )
}

export function SwingFineness({ form, set }: { form: SwingForm; set: (c: Partial<SwingForm>) => void }) {
  const usual = usualSpread(form)
  return (
    <HelpLine word={SWING.finer}>
      <NumberField
        label={MOUNT.step}
        kind={KINDS.step}
        text={form.step}
        hint={MOUNT.usual(`${fixed(usual.stepDeg, 2)}°`)}
        onText={step => set({ step })}
      />
      <NumberField
        label={SWING.noise}
        kind={KINDS.step}
        text={form.noise}
        hint={MOUNT.usual(`${fixed(usual.noiseDeg, 2)}°`)}
        onText={noise => set({ noise })}
      />
      <NumberField
        label={SWING.bias}
        kind={KINDS.step}
        text={form.bias}
        hint={MOUNT.usual(`${USUAL_SWING.biasDeg}°`)}
        onText={bias => set({ bias })}
      />
    </HelpLine>
  )
}

/** Diameter and depth, and what they make of the dish. */
import { useMemo } from 'preact/hooks'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { bowlOf, dishAnswer, measuresOf, TAPE_MM } from '../../core/tape/measured.ts'
import { takeUtc } from '../../state/ask.ts'
import { DishCautions } from '../kit/DishCautions.tsx'
import { NumberField } from '../kit/fields.tsx'
import { lengthUnit, measuredLength } from '../kit/format.ts'
import { HelpLine } from '../kit/HelpLine.tsx'
import { useKept } from '../kit/keptany.ts'
import { Notice } from '../kit/Notice.tsx'
import { BowlPlot } from './BowlPlot.tsx'
import { ApplyAction, ApplyNotes, DishFrame, useApplying } from './DishParts.tsx'
import { bowlForm, sigmaKind, tapedKind, withBowl } from './form.ts'
import { bowlSays, DISH_NOT_YET, DISH_TAPE } from './words.ts'

export function DishBowl({ station }: { station: StationRecord }) {
  const name = `dish.bowl.${station.id}`
  const [form, setForm] = useKept(name, () => bowlForm(station, lengthUnit() === 'in'))
  const { apply, keeping } = useApplying(station, name)
  const set = (change: Partial<typeof form>) => setForm(before => ({ ...before, ...change }))
  const made = withBowl(form, station, takeUtc())
  const measures = made.kind === 'ready' ? made.value : measuresOf(station)
  const shape = `${measures.diameterMm} ${measures.depthMm}`
  const bowl = useMemo(() => bowlOf(station, measures), [station, shape])
  const unit = form.inch ? 'in' : 'mm'
  return (
    <DishFrame
      station={station}
      title={DISH_TAPE.bowl}
      action={
        <ApplyAction
          keeping={keeping}
          notNow={made.kind === 'ready' ? null : DISH_NOT_YET[made.why]}
          onApply={() =>
            made.kind === 'ready' &&
            void apply(made.value, 'all', { kind: 'measure-bowl', place: 'dish', subject: { station: station.id } })
          }
        />
      }
    >
      <DishCautions station={station} reach={false} />
      <BowlPlot bowl={bowl} unit={unit} />
      <NumberField
        label={DISH_TAPE.diameter}
        kind={tapedKind(form)}
        text={form.diameter}
        hint={DISH_TAPE.diameterHint}
        onText={diameter => set({ diameter })}
      />
      <NumberField
        label={DISH_TAPE.depth}
        kind={tapedKind(form)}
        text={form.depth}
        hint={DISH_TAPE.depthHint}
        onText={depth => set({ depth })}
      />
      {made.kind === 'ready' && (
        <Notice state="good" word={DISH_TAPE.result} live="status">
          {bowlSays(dishAnswer(station, made.value), unit)}
        </Notice>
      )}
      <HelpLine word={DISH_TAPE.sigma}>
        <NumberField
          label={DISH_TAPE.sigma}
          kind={sigmaKind(form)}
          text={form.sigma}
          hint={DISH_TAPE.sigmaHint(measuredLength(TAPE_MM, null, unit).text)}
          onText={sigma => set({ sigma })}
        />
      </HelpLine>
      <ApplyNotes keeping={keeping} />
    </DishFrame>
  )
}

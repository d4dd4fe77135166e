/** Two strings crossed over the rim: whether it is flat. */
import { useMemo } from 'preact/hooks'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { dishAnswer } from '../../core/tape/measured.ts'
import { takeUtc } from '../../state/ask.ts'
import { Choice } from '../kit/Choice.tsx'
import { DishCautions } from '../kit/DishCautions.tsx'
import { NumberField } from '../kit/fields.tsx'
import { lengthUnit } from '../kit/format.ts'
import { useKept } from '../kit/keptany.ts'
import { Notice } from '../kit/Notice.tsx'
import { Text } from '../kit/numbers.tsx'
import { ApplyAction, ApplyNotes, DishFrame, SideChoice, useApplying } from './DishParts.tsx'
import { stringsForm, stringsKind, stringsOf, withStrings } from './form.ts'
import { RimFacePlot } from './RimFacePlot.tsx'
import { DISH_NOT_YET, DISH_TAPE, warpCosts, warpSays } from './words.ts'

export function DishStrings({ station }: { station: StationRecord }) {
  const name = `dish.strings.${station.id}`
  const [form, setForm] = useKept(name, () => stringsForm(lengthUnit() === 'in'))
  const { apply, keeping } = useApplying(station, name)
  const set = (change: Partial<typeof form>) => setForm(before => ({ ...before, ...change }))
  const made = stringsOf(form, takeUtc())
  const measures = made.kind === 'ready' ? withStrings(made.value, station) : null
  const answer = measures && dishAnswer(station, measures)
  const unit = form.inch ? 'in' : 'mm'
  const { seenFrom, pair } = form
  const face = useMemo(
    () =>
      ({
        seenFrom,
        hours: [],
        taped: [],
        unit,
        diameterMm: 1000 * station.dish.diameterM,
        feed: null,
        strings: pair,
      }) as const,
    [seenFrom, pair, unit, station],
  )
  return (
    <DishFrame
      station={station}
      title={DISH_TAPE.strings}
      action={
        <ApplyAction
          keeping={keeping}
          notNow={made.kind === 'ready' ? null : DISH_NOT_YET[made.why]}
          onApply={() =>
            measures !== null &&
            void apply(measures, [], { kind: 'measure-strings', place: 'dish', subject: { station: station.id } })
          }
        />
      }
    >
      <DishCautions station={station} reach />
      <Text>{DISH_TAPE.stringsHow}</Text>
      <SideChoice value={seenFrom} onPick={side => set({ seenFrom: side })} />
      <Choice
        label={DISH_TAPE.pair}
        value={pair}
        options={[
          { value: 'upright', word: DISH_TAPE.upright },
          { value: 'diagonal', word: DISH_TAPE.diagonal, note: DISH_TAPE.diagonalNote },
        ]}
        onPick={picked => set({ pair: picked })}
      />
      <RimFacePlot title={DISH_TAPE.stringsTitle} face={face} />
      <NumberField
        label={DISH_TAPE.first[pair]}
        kind={stringsKind(form)}
        text={form.first}
        hint={DISH_TAPE.gapHint}
        onText={first => set({ first })}
      />
      <NumberField
        label={DISH_TAPE.second[pair]}
        kind={stringsKind(form)}
        text={form.second}
        hint={DISH_TAPE.gapHint}
        onText={second => set({ second })}
      />
      {answer && seenFrom !== '' && (
        <Notice state="good" word={DISH_TAPE.result} live="status">
          <p>{warpSays(answer, unit, seenFrom)}</p>
          {answer.feeds.map(row => (
            <p key={row.feed}>{warpCosts(row)}</p>
          ))}
        </Notice>
      )}
      <ApplyNotes keeping={keeping} />
    </DishFrame>
  )
}

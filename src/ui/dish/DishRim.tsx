/** From the rim to the feed at hours of the clock: where the feed sits. */
import { useMemo } from 'preact/hooks'
import type { FeedRecord, StationRecord } from '../../core/records/fieldbook.ts'
import { dishAnswer, TAPE_MM } from '../../core/tape/measured.ts'
import { takeUtc } from '../../state/ask.ts'
import { Choice } from '../kit/Choice.tsx'
import { DishCautions } from '../kit/DishCautions.tsx'
import { NumberField } from '../kit/fields.tsx'
import { lengthUnit, measuredLength } from '../kit/format.ts'
import { HelpLine } from '../kit/HelpLine.tsx'
import { useKept } from '../kit/keptany.ts'
import { Notice } from '../kit/Notice.tsx'
import { Text } from '../kit/numbers.tsx'
import { ApplyAction, ApplyNotes, DishFrame, SideChoice, useApplying } from './DishParts.tsx'
import {
  clockHours,
  mmOf,
  mouthKind,
  phaseKind,
  type RimForm,
  rimForm,
  rimOf,
  sigmaKind,
  tapedKind,
  withRim,
} from './form.ts'
import { RimFacePlot } from './RimFacePlot.tsx'
import { agreeSays, DISH_NOT_YET, DISH_TAPE, feedCosts, feedSays, noPlaceSays } from './words.ts'

export function DishRim({ station, feed }: { station: StationRecord; feed: FeedRecord }) {
  const name = `dish.rim.${station.id}.${feed.id}`
  const [form, setForm] = useKept(name, () => rimForm(station, feed.id, lengthUnit() === 'in'))
  const { apply, keeping } = useApplying(station, name)
  const set = (change: Partial<RimForm>) => setForm(before => ({ ...before, ...change }))
  const made = rimOf(form, feed.id, takeUtc())
  const measures = made.kind === 'ready' ? withRim(made.value, station) : null
  const answer = dishAnswer(station, ...(measures === null ? [] : [measures]))
  const place = measures === null ? null : answer.feeds.find(f => f.feed === feed.id)!.place
  const sits = place?.kind === 'place' ? place : null
  const hours = clockHours(form.places)
  const unit = form.inch ? 'in' : 'mm'
  const face = {
    seenFrom: form.seenFrom,
    hours,
    taped: hours.map(hour => mmOf(form, form.distances[hour % 12] ?? '')),
    unit,
    diameterMm: 1000 * answer.diameterM,
    feed: sits && { rightMm: sits.rightMm, upMm: sits.upMm },
  } as const
  const drawn = useMemo(() => face, [JSON.stringify(face)])
  const why =
    made.kind !== 'ready' ? DISH_NOT_YET[made.why] : sits === null && place ? noPlaceSays(place as never) : null
  return (
    <DishFrame
      station={station}
      title={DISH_TAPE.rim(feed.name)}
      action={
        <ApplyAction
          keeping={keeping}
          notNow={why}
          onApply={() =>
            measures !== null &&
            void apply(measures, [feed.id], {
              kind: 'measure-rim',
              place: 'dish',
              subject: { station: station.id, feed: feed.name },
            })
          }
        />
      }
    >
      <DishCautions station={station} reach />
      <SideChoice value={form.seenFrom} onPick={seenFrom => set({ seenFrom })} />
      <Choice
        label={DISH_TAPE.places}
        value={form.places}
        options={[
          { value: '3', word: DISH_TAPE.three },
          { value: '4', word: DISH_TAPE.four },
          { value: '12', word: DISH_TAPE.twelve, note: DISH_TAPE.twelveNote },
        ]}
        onPick={places => set({ places })}
      />
      <RimFacePlot title={DISH_TAPE.faceTitle} face={drawn} />
      <Choice
        label={DISH_TAPE.to}
        value={form.to}
        options={[
          { value: 'centre', word: DISH_TAPE.centre },
          { value: 'edge', word: DISH_TAPE.edge },
        ]}
        onPick={to => set({ to })}
      />
      {form.to === 'edge' && (
        <NumberField
          label={DISH_TAPE.mouth}
          kind={mouthKind(form)}
          text={form.mouth}
          hint={DISH_TAPE.mouthHint}
          onText={mouth => set({ mouth })}
        />
      )}
      <Text quiet>{DISH_TAPE.rimHint}</Text>
      {hours.map(hour => (
        <NumberField
          key={hour}
          label={DISH_TAPE.at(hour)}
          kind={tapedKind(form)}
          text={form.distances[hour % 12] ?? ''}
          hint=" "
          onText={text => set({ distances: form.distances.map((old, i) => (i === hour % 12 ? text : old)) })}
        />
      ))}
      <Said form={form} sits={sits} unit={unit} />
      <HelpLine word={DISH_TAPE.finer}>
        <NumberField
          label={DISH_TAPE.phase}
          kind={phaseKind(form)}
          text={form.phase}
          hint={DISH_TAPE.phaseHint}
          onText={phase => set({ phase })}
        />
        <NumberField
          label={DISH_TAPE.sigma}
          kind={sigmaKind(form)}
          text={form.sigma}
          hint={DISH_TAPE.sigmaHint(measuredLength(TAPE_MM, null, unit).text)}
          onText={sigma => set({ sigma })}
        />
        <Text>{DISH_TAPE.heightHint}</Text>
      </HelpLine>
      <ApplyNotes keeping={keeping} />
    </DishFrame>
  )
}

type Sits = Parameters<typeof feedSays>[0]

function Said({ form, sits, unit }: { form: RimForm; sits: Sits | null; unit: 'mm' | 'in' }) {
  if (sits === null || form.seenFrom === '') return null
  const seen = form.seenFrom
  const agree = agreeSays(sits, unit)
  return (
    <>
      <Notice state={agree?.good === false ? 'look-out' : 'good'} word={DISH_TAPE.result} live="status">
        <p>{feedSays(sits, unit, seen)}</p>
        {agree && <p>{agree.text}</p>}
      </Notice>
      {(sits.suspectClock === null ? feedCosts(sits, unit, seen) : []).map(words => (
        <Text key={words}>{words}</Text>
      ))}
    </>
  )
}

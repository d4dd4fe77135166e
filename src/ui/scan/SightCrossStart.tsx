/** A cross scan begun: on what, which axes, how many readings, from which side. */
import { feedOf } from '../../core/records/feeds.ts'
import type { Axis, StationRecord } from '../../core/records/fieldbook.ts'
import { newId } from '../../state/book.ts'
import { feedHere } from '../../state/chosenfeed.ts'
import { takeStamp } from '../../state/now.ts'
import { askCrossPlan, type CrossPlanJson } from '../../state/scanasks.ts'
import { keepScan } from '../../state/scans.ts'
import { scanTargetHere } from '../../state/scantarget.ts'
import { useAsked } from '../kit/asked.ts'
import { Action } from '../kit/buttons.tsx'
import { Choice } from '../kit/Choice.tsx'
import { degrees } from '../kit/format.ts'
import { Refused, useKeep } from '../kit/keep.tsx'
import { useKept } from '../kit/keptany.ts'
import { Notice } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { Sentence, Text } from '../kit/numbers.tsx'
import { axisName } from '../kit/phrases.ts'
import { axisWord, readingText } from '../kit/readings.ts'
import { WAYS } from '../kit/ways.ts'
import { type CrossForm, crossFromForm, crossWish, emptyCross } from './form.ts'
import { FailedNote, FeedAndScale, ScanCaution, ScanFrame, ScanTarget } from './SightDriftParts.tsx'
import { CROSS, DRIFT, EQUAL } from './words.ts'

export function CrossStart({ station }: { station: StationRecord }) {
  const [form, setForm] = useKept<CrossForm>(`cross.${station.id}`, () => emptyCross(feedHere(station)))
  const set = (change: Partial<CrossForm>) => setForm(before => ({ ...before, ...change }))
  const feed = feedOf(station, form.feed)
  const { target: of, note } = scanTargetHere(station, feed.id)
  const { keep, refused } = useKeep()
  const { both: _, ...wish } = crossWish(form)
  const {
    told,
    value: plan,
    asking,
  } = useAsked(JSON.stringify([of, feed.id, wish]), () => askCrossPlan(station, feed.id, { ...wish, target: of }))
  const axes = crossWish(form, plan?.useless ?? []).axes
  const begin = () => {
    const id = newId()
    const scan = crossFromForm(form, station, of, crossWish(form, plan?.useless ?? []), id, takeStamp().utcMs)
    void keep(
      () =>
        keepScan(station, [{ ...scan, feed: feed.id }], {
          kind: 'begin-scan',
          place: 'scan',
          subject: { id, what: 'cross' },
        }),
      () => go('sight', 'cross', 'run', id),
    )
  }
  return (
    <ScanFrame
      station={station}
      title={WAYS.cross}
      action={
        <Action
          notNow={plan === null || asking ? DRIFT.asking : axes.length === 0 ? CROSS.noAxis : null}
          onPress={begin}
        >
          {CROSS.start}
        </Action>
      }
    >
      <ScanTarget station={station} feed={feed.id} of={of} note={note} />
      {plan !== null && form.way === 'steps' && <Steps station={station} plan={plan} axes={axes} />}
      {!asking && told?.kind === 'told' && plan === null && <Notice state="look-out">{CROSS.noPlan(of)}</Notice>}
      <FailedNote told={told} />
      <ScanCaution station={station} target={of} />
      <FeedAndScale
        noScale={form.way === 'equal'}
        station={station}
        feed={feed.id}
        onFeed={picked => set({ feed: picked })}
        scale={form.scale}
        onScale={scale => set({ scale })}
      />
      <Choice
        label={EQUAL.how}
        long
        value={form.way}
        options={(['steps', 'equal'] as const).map(value => ({ value, ...EQUAL.hows[value] }))}
        onPick={way => set({ way })}
      />
      {form.way === 'steps' && <StepFields station={station} form={form} set={set} />}
      <Refused why={refused} />
    </ScanFrame>
  )
}

/** How far the steps go, and where an axis is of no use. */
function Steps({ station, plan, axes }: { station: StationRecord; plan: CrossPlanJson; axes: readonly Axis[] }) {
  const { mount } = station
  return (
    <>
      {axes.map(axis => {
        const step = plan.stepReading[axis]
        return step === undefined ? null : (
          <Text key={axis}>
            {CROSS.steps(axisName(mount, axis), readingText(mount, axis, step), degrees(plan.stepDeg, 1))}
          </Text>
        )
      })}
      {plan.useless.map(axis => (
        <Notice key={axis} state="look-out">
          {CROSS.useless(axisName(mount, axis))}
        </Notice>
      ))}
      {plan.points.some(p => !p.inside) && <Sentence>{CROSS.someBeyond}</Sentence>}
    </>
  )
}

function StepFields(p: { station: StationRecord; form: CrossForm; set: (change: Partial<CrossForm>) => void }) {
  const { form, set } = p
  const { mount } = p.station
  return (
    <>
      <Choice
        label={CROSS.axes}
        value={form.axes}
        options={(['both', 'lower', 'upper'] as const).map(value => ({
          value,
          word: value === 'both' ? CROSS.bothAxes : axisWord(mount, value),
        }))}
        onPick={picked => set({ axes: picked })}
      />
      <div class="scan-short">
        <Choice
          label={CROSS.points}
          value={form.points}
          options={(['5', '7', '9'] as const).map(value => ({ value, word: value }))}
          onPick={points => set({ points })}
        />
      </div>
      <Choice
        label={CROSS.from}
        long
        value={form.from}
        options={(['+', '-'] as const).map(value => ({ value, word: CROSS.sides[value] }))}
        onPick={from => set({ from })}
        hint={CROSS.fromNote}
      />
      <Choice
        label={CROSS.both}
        value={form.both}
        options={(['once', 'both'] as const).map(value => ({ value, word: CROSS.boths[value] }))}
        onPick={both => set({ both })}
      />
    </>
  )
}

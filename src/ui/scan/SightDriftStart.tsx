/** A drift scan begun: where to park the dish ahead of the target and when it comes; how the levels will come. */
import { useState } from 'preact/hooks'
import { feedOf } from '../../core/records/feeds.ts'
import type { Axis, StationRecord } from '../../core/records/fieldbook.ts'
import { instantMs } from '../../core/records/instant.ts'
import { MINUTE_MS } from '../../core/units.ts'
import { trueNow } from '../../state/ask.ts'
import { newId, type UndoStep } from '../../state/book.ts'
import { feedHere } from '../../state/chosenfeed.ts'
import { now, takeStamp } from '../../state/now.ts'
import { askDriftPlan, type DriftPlanJson } from '../../state/scanasks.ts'
import { readLog } from '../../state/scanlog.ts'
import { inParts, keepScan } from '../../state/scans.ts'
import { scanTargetHere } from '../../state/scantarget.ts'
import { useAsked } from '../kit/asked.ts'
import { Action, ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { Choice } from '../kit/Choice.tsx'
import { Refused, useKeep } from '../kit/keep.tsx'
import { useKept } from '../kit/keptany.ts'
import { Notice } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { AxisPair, Sentence, Text } from '../kit/numbers.tsx'
import { dialled } from '../kit/phrases.ts'
import { readingLabel } from '../kit/readings.ts'
import { utcText } from '../kit/utcfield.ts'
import { WAYS } from '../kit/ways.ts'
import { type DriftForm, driftFromForm, emptyDrift, pastedFromForm } from './form.ts'
import { FailedNote, FeedAndScale, ScanCaution, ScanFrame, ScanTarget } from './SightDriftParts.tsx'
import { PastedLog } from './SightDriftPaste.tsx'
import { More, ParkedReadings, type SetDrift } from './SightDriftReadings.tsx'
import { DRIFT, notYetWords } from './words.ts'

export function DriftStart({ station }: { station: StationRecord }) {
  const name = `drift.${station.id}`
  const [form, setForm] = useKept<DriftForm>(name, () => emptyDrift(feedHere(station), utcText(now.peek())))
  const set: SetDrift = change => setForm(before => ({ ...before, ...change }))
  const feed = feedOf(station, form.feed)
  const { target: of, note } = scanTargetHere(station, feed.id)
  const [anew, setAnew] = useState(0)
  const { keep: begin, refused } = useKeep([name])
  const isLog = form.how === 'pasted'
  const pass = form.pass === '' ? null : Number(form.pass)
  const { told, value, asking } = useAsked(isLog ? null : JSON.stringify([of, feed.id, form.pass, anew]), () =>
    askDriftPlan(station, feed.id, of, pass),
  )
  // Readings that lie beyond a stop, or look into the ground, are not to be driven to: only that is said.
  const plan = asking || value?.inside === false ? null : value
  const whole = { ...form, feed: feed.id }
  const made = isLog
    ? pastedFromForm(whole, station, of, 'new', readLog)
    : driftFromForm(whole, station, of, plan, 'new', now.peek())

  const keep = () => {
    const id = newId()
    const fresh = isLog
      ? pastedFromForm(whole, station, of, id, readLog)
      : driftFromForm(whole, station, of, plan, id, takeStamp().utcMs)
    if (fresh.kind !== 'ready') return
    const { record } = fresh
    const records = 'scan' in record ? inParts(record.scan, record.samples) : [record]
    const step: UndoStep = isLog
      ? { kind: 'keep-log', place: 'scan', subject: { id } }
      : { kind: 'begin-scan', place: 'scan', subject: { id, what: 'drift' } }
    void begin(
      () => keepScan(station, records, step),
      () => go('sight', 'drift', isLog ? 'see' : 'run', id),
    )
  }
  return (
    <ScanFrame
      station={station}
      title={WAYS.drift}
      action={
        <Action notNow={made.kind === 'ready' ? null : notYetWords(station.mount, made.why)} onPress={keep}>
          {isLog ? DRIFT.keepLog : DRIFT.start}
        </Action>
      }
    >
      <ScanTarget station={station} feed={feed.id} of={of} note={note} />
      {!isLog && (
        <>
          {!asking && value !== null && (
            <Park station={station} plan={value} pass={pass} set={set} onAnew={() => setAnew(anew + 1)} />
          )}
          {asking && <Text quiet>{DRIFT.asking}</Text>}
          {!asking && told?.kind === 'told' && value === null && <Notice state="look-out">{DRIFT.noPlan(of)}</Notice>}
          <FailedNote told={told} />
        </>
      )}
      <ScanCaution station={station} target={of} />
      <ParkedReadings station={station} form={form} set={set} plan={plan} />
      <Choice
        label={DRIFT.how}
        long
        value={form.how}
        options={(['typed', 'tapped', 'pasted'] as const).map(value => ({ value, ...DRIFT.hows[value] }))}
        onPick={how => set({ how })}
      />
      <FeedAndScale
        noScale={form.how === 'tapped'}
        station={station}
        feed={feed.id}
        onFeed={picked => set({ feed: picked })}
        scale={form.scale}
        onScale={scale => set({ scale })}
      />
      {isLog && <PastedLog form={form} set={set} />}
      <More station={station} form={form} set={set} />
      <Refused why={refused} />
    </ScanFrame>
  )
}

/** Where to park, and when it comes. */
function Park(p: {
  station: StationRecord
  plan: DriftPlanJson
  pass: number | null
  set: SetDrift
  onAnew: () => void
}) {
  const { station, plan, set } = p
  const { mount } = station
  const peakMs = instantMs(plan.peakUtc)
  const shown = (axis: Axis) => ({ label: readingLabel(mount, axis), value: dialled(mount, axis, plan[axis]).value })
  // A fifth of what is heard before the peak, in whole minutes.
  const minutes = Math.max(1, Math.round(plan.widthS / 150))
  const at = (ms: number) => set({ pass: String(ms) })
  return (
    <>
      {plan.inside ? (
        <>
          <Sentence strong>{DRIFT.park}</Sentence>
          <AxisPair size={3} lower={shown('lower')} upper={shown('upper')} />
          <Sentence>{DRIFT.passes(peakMs)}</Sentence>
          <Text>{DRIFT.listen(instantMs(plan.fromUtc), instantMs(plan.toUtc), 1000 * plan.widthS)}</Text>
          {peakMs - 500 * plan.widthS < trueNow.value && <Notice state="look-out">{DRIFT.late}</Notice>}
        </>
      ) : (
        <Notice state="look-out">{DRIFT.beyond}</Notice>
      )}
      <ButtonRow>
        <SecondaryButton onPress={() => at((p.pass ?? peakMs) - MINUTE_MS * minutes)}>
          {DRIFT.sooner(minutes)}
        </SecondaryButton>
        <SecondaryButton onPress={() => at((p.pass ?? peakMs) + MINUTE_MS * minutes)}>
          {DRIFT.later(minutes)}
        </SecondaryButton>
        <SecondaryButton
          onPress={() => {
            set({ pass: '' })
            p.onAnew()
          }}
        >
          {DRIFT.anew}
        </SecondaryButton>
      </ButtonRow>
    </>
  )
}

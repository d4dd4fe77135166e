/** A cross scan under way: one big number to set, one field for the level, one button that takes the time. */
import { useRef, useState } from 'preact/hooks'
import { feedOf } from '../../core/records/feeds.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import type { CrossScanRecord } from '../../core/records/scans.ts'
import { isoOf, trueNowMs } from '../../state/ask.ts'
import { takeStamp } from '../../state/now.ts'
import { askCrossFit, askCrossPlan } from '../../state/scanasks.ts'
import { addCrossLevel, crossToFit } from '../../state/scans.ts'
import { isStep } from '../../state/steps.ts'
import { useAsked } from '../kit/asked.ts'
import { Action, ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { NumberField } from '../kit/fields.tsx'
import { Refused, refusedBy } from '../kit/keep.tsx'
import { useKept } from '../kit/keptany.ts'
import { Notice } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { numberOf } from '../kit/numberfield.ts'
import { Sentence } from '../kit/numbers.tsx'
import { UndoStrip } from '../kit/undo.tsx'
import {
  type CrossLevelForm,
  type CrossStep,
  crossSample,
  crossSteps,
  LEVEL_KINDS,
  otherAxis,
  settingFor,
  USUAL_WISH,
} from './form.ts'
import { CrossPicture } from './SightCrossPicture.tsx'
import { ShowsOther, ToSet } from './SightCrossSet.tsx'
import { FailedNote, ScanCaution, ScanFrame } from './SightDriftParts.tsx'
import { CROSS, DRIFT } from './words.ts'

/** A press that takes longer than this was not one act: the time is taken again when it ends. ms */
const LONGEST_PRESS_MS = 3000
/** From the moment a reading is shown until its level is noted, about. s */
const TO_SET_S = 20

/** Where the arms of the other axis put the peak, so that this one runs through it. Null until they do. */
async function centreFrom(station: StationRecord, scan: CrossScanRecord, step: CrossStep) {
  const others = crossToFit(scan).samples.filter(s => s.axis !== step.axis)
  if (others.length === 0) return null
  const told = await askCrossFit(station, { ...scan, samples: others }, 'known', 'cross-centre')
  return told?.kind === 'told' && told.value.kind === 'peak' && !told.value.isWeak ? told.value.miss : null
}

/** What to set for a step, for a moment shortly after it is shown. */
function useSetting(station: StationRecord, scan: CrossScanRecord, step: CrossStep | undefined) {
  const wish = scan.plan ?? USUAL_WISH
  const feed = feedOf(station, scan.feed).id
  const ask = async (at: CrossStep) => {
    const nowMs = trueNowMs(station)
    const centre = await centreFrom(station, scan, at)
    return askCrossPlan(station, feed, {
      ...(centre !== null && { centre }),
      target: scan.target,
      // The plan counts from its first reading: it is begun early enough that this reading is for now.
      fromUtc: isoOf(nowMs + 1000 * TO_SET_S * (1 - at.k)),
      points: wish.points,
      step: wish.step,
      from: at.from,
      secondsEach: TO_SET_S,
      axes: [at.axis, otherAxis(at.axis)],
    })
  }
  const key = step === undefined ? null : JSON.stringify([scan.id, step])
  const { told, value, asking } = useAsked(key, () => ask(step!))
  const plan = asking ? null : value
  const setting = plan === null || step === undefined ? null : settingFor(plan, step, scan.samples.at(-1) ?? null)
  return { setting, told, isFresh: !asking }
}

export function CrossRun({ station, scan }: { station: StationRecord; scan: CrossScanRecord }) {
  const { mount } = station
  const steps = crossSteps(scan.plan ?? USUAL_WISH)
  const [form, setForm] = useKept<CrossLevelForm>(`cross.level.${scan.id}`, () => ({
    at: Math.min(scan.samples.length, steps.length),
    level: '',
    lower: '',
    upper: '',
  }))
  const step = steps[form.at]
  const { setting, told, isFresh } = useSetting(station, scan, step)
  const [refused, setRefused] = useState<string | null>(null)
  const down = useRef<ReturnType<typeof takeStamp> | null>(null)
  const box = useRef<HTMLFormElement>(null)
  const set = (change: Partial<CrossLevelForm>) => setForm(before => ({ ...before, ...change }))
  const moveTo = (at: number) => setForm({ at, level: '', lower: '', upper: '' })
  const stamp = async () => {
    const fresh = takeStamp()
    const first = down.current
    down.current = null
    const at = first && fresh.monotonicMs - first.monotonicMs < LONGEST_PRESS_MS ? first : fresh
    if (step === undefined || setting === null) return
    const sample = crossSample(form, scan, mount, step, setting, at.utcMs)
    if (sample === null) return
    const kept = await addCrossLevel(station.id, scan, sample)
    setRefused(refusedBy(kept))
    if (kept.kind === 'refused') return
    moveTo(form.at + 1)
    box.current?.querySelector('input')?.focus()
  }
  const level = numberOf(form.level, LEVEL_KINDS[scan.scale])
  return (
    <ScanFrame
      station={station}
      title={CROSS.title}
      side={<ScanCaution station={station} target={scan.target} />}
      action={
        step === undefined ? (
          <Action onPress={() => go('sight', 'cross', 'see', scan.id)}>{CROSS.done}</Action>
        ) : (
          <Action
            notNow={setting === null ? DRIFT.asking : level === null ? DRIFT.stampNot : null}
            onDown={() => {
              down.current = takeStamp()
            }}
            onPress={() => void stamp()}
          >
            {CROSS.stamp}
          </Action>
        )
      }
    >
      {step === undefined ? (
        <Sentence>{CROSS.all}</Sentence>
      ) : (
        <>
          {setting !== null && (
            <ToSet station={station} step={step} setting={setting} k={form.at + 1} n={steps.length} />
          )}
          {isFresh && told?.kind === 'told' && setting === null && (
            <Notice state="look-out">{CROSS.noPlan(scan.target)}</Notice>
          )}
          <FailedNote told={told} />
          <form
            ref={box}
            onSubmit={event => {
              event.preventDefault()
              void stamp()
            }}
          >
            <NumberField
              label={DRIFT.level(scan.scale === 'dB')}
              kind={LEVEL_KINDS[scan.scale]}
              text={form.level}
              signButton={scan.scale === 'dB'}
              onText={text => set({ level: text })}
              hint=""
            />
          </form>
          {setting !== null && <ShowsOther station={station} form={form} setting={setting} set={set} />}
        </>
      )}
      <ButtonRow>
        {step !== undefined && <SecondaryButton onPress={() => moveTo(form.at + 1)}>{CROSS.skip}</SecondaryButton>}
        {form.at > 0 && <SecondaryButton onPress={() => moveTo(form.at - 1)}>{CROSS.back1}</SecondaryButton>}
        {step !== undefined && (
          <SecondaryButton onPress={() => go('sight', 'cross', 'see', scan.id)}>{CROSS.done}</SecondaryButton>
        )}
      </ButtonRow>
      <UndoStrip of="scan" onUndone={step => isStep(step, 'signal-level') && form.at > 0 && moveTo(form.at - 1)} />
      <Refused why={refused} />
      <CrossPicture station={station} scan={scan} />
    </ScanFrame>
  )
}

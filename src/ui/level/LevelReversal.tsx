/**
 * Find an instrument's bias by a reversal: two positions with pictures, the turn proved by the numbers, the bias kept
 * with the instrument. By the phone; an inclinometer's two readings are typed.
 */
import { EDGES, type Edge, edgeOf, endsOf, type PhoneEnd } from '../../core/level/upvector.ts'
import type { StationRecord, Taken } from '../../core/records/fieldbook.ts'
import type { InstrumentRecord } from '../../core/records/instruments.ts'
import { levelKinds } from '../../core/records/levelkinds.ts'
import { degFromRad } from '../../core/units.ts'
import { takeTrueMs } from '../../state/ask.ts'
import { newId } from '../../state/book.ts'
import { freshPhone, instrumentsAt, keepInstrument, phoneInstrument } from '../../state/instruments.ts'
import { signRefused } from '../../state/level.ts'
import { Action, ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { useKeep } from '../kit/keep.tsx'
import { useKept } from '../kit/keptany.ts'
import { NOT_YET } from '../kit/mount/notyet.ts'
import { MountFrame } from '../kit/mount/parts.tsx'
import { levelName } from '../kit/mount/words.ts'
import { Notice } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { RowButton, Sentence, Text } from '../kit/numbers.tsx'
import { UnsavedNotice } from '../kit/SavedLine.tsx'
import { utcOf } from '../kit/utcfield.ts'
import { emptyMeasure, type MeasureForm, reversalOf, reversedSigmaDeg } from './form.ts'
import { hand } from './handed.ts'
import { TwoReadings } from './LevelFields.tsx'
import { biasFromHand, biasFromPhone, NO_OWN, phoneReversal, phoneReversedSigma } from './phoneform.ts'
import { INSTRUMENTS, phoneName, TURN, turnVerdict } from './phonewords.ts'
import { ReversalByPhone } from './ReversalByPhone.tsx'
import { LEVEL } from './words.ts'

/** @param which  an edge of this phone, or the id of an inclinometer */
export function LevelReversal({ station, which }: { station: StationRecord; which: string }) {
  const edge = EDGES.find(e => e === which)
  if (edge) return <PhoneReversal station={station} edge={edge} />
  const instrument = instrumentsAt(station).find(i => i.id === which && i.type === 'inclinometer')
  return instrument ? <HandReversal station={station} instrument={instrument} /> : <GoneInstrument station={station} />
}

export function GoneInstrument({ station }: { station: StationRecord }) {
  return (
    <MountFrame
      station={station}
      title={INSTRUMENTS.title}
      action={<Action onPress={() => go('mount', 'instruments')}>{INSTRUMENTS.title}</Action>}
    >
      <Sentence>{INSTRUMENTS.gone}</Sentence>
    </MountFrame>
  )
}

/** @param form  the name that the form is kept under */
function useKeepBias(station: StationRecord, form: string) {
  const { keep } = useKeep([form])
  return (instrument: InstrumentRecord) =>
    void keep(
      () => keepInstrument(station, instrument, 'keep-bias'),
      () => go('mount', 'instruments'),
    )
}

interface PhonePair {
  end: PhoneEnd
  pair: { first: Taken; second: Taken | null; refused?: Taken } | null
}

function PhoneReversal({ station, edge }: { station: StationRecord; edge: Edge }) {
  const name = `reversal.phone.${station.id}.${edge}`
  const [form, setForm] = useKept<PhonePair>(name, () => ({ end: endsOf(edge)[0], pair: null }))
  const keepBias = useKeepBias(station, name)
  const { end, pair } = form
  const setEnd = (next: PhoneEnd) => setForm(before => ({ ...before, end: next }))
  const setPair = (next: PhonePair['pair']) => setForm(before => ({ ...before, pair: next }))
  if (pair === null || pair.second === null)
    return (
      <ReversalByPhone
        station={station}
        end={end}
        onEnd={setEnd}
        first={pair?.first ?? null}
        refused={pair?.refused ?? null}
        onDone={(first, second) => {
          if (phoneReversal(first, second, end).kind !== 'reversed') signRefused()
          setPair({ first, second })
        }}
        onBack={() => go('mount', 'instruments')}
      />
    )
  const { first, second } = pair
  const reversal = phoneReversal(first, second, end)
  const sigma = reversal.kind === 'reversed' ? degFromRad(phoneReversedSigma(reversal.left, first, second)) : 0
  const said = turnVerdict(station.mount, reversal, sigma)
  const keep = () => {
    if (reversal.kind !== 'reversed') return
    const own = edgeOf(end)
    const base = phoneInstrument(station, own) ?? freshPhone(own, phoneName(own), newId())
    keepBias({ ...base, bias: biasFromPhone(reversal, first, second, end, null) })
  }
  const again = () => setPair({ first, second: null, refused: second })
  return (
    <MountFrame
      station={station}
      title={TURN.title}
      action={
        said.good ? <Action onPress={keep}>{TURN.keep}</Action> : <Action onPress={again}>{TURN.secondAgain}</Action>
      }
    >
      <UnsavedNotice />
      <Notice state={said.good ? 'good' : 'stop'} word={said.word} live="status">
        {said.text}
      </Notice>
      <ButtonRow>
        <SecondaryButton onPress={() => setPair(null)}>{TURN.firstAgain}</SecondaryButton>
        {said.good && <SecondaryButton onPress={again}>{TURN.secondAgain}</SecondaryButton>}
      </ButtonRow>
      {said.good && (
        <>
          <Sentence strong>{INSTRUMENTS.asLevel}</Sentence>
          <div class="level-list">
            {levelKinds(station.mount.kind)
              .filter(what => what !== 'mast-lean')
              .map(what => (
                <RowButton
                  key={what}
                  label={levelName(station.mount, what)}
                  onPress={() => {
                    hand({ kind: 'turned', first, second, end })
                    go('mount', 'measure', what)
                  }}
                />
              ))}
          </div>
        </>
      )}
    </MountFrame>
  )
}

function HandReversal({ station, instrument }: { station: StationRecord; instrument: InstrumentRecord }) {
  const name = `reversal.${station.id}.${instrument.id}`
  const [form, setForm] = useKept<MeasureForm>(name, () => ({
    ...emptyMeasure(takeTrueMs()),
    how: 'reversal',
    shows: instrument.shows ?? 'quarter',
  }))
  const keepBias = useKeepBias(station, name)
  const own = { ...NO_OWN, id: instrument.id, instrument }
  const reversal = reversalOf(form)
  const sigma = reversal?.kind === 'reversed' ? reversedSigmaDeg(form, reversal.left, own) : null
  const notNow =
    reversal === null
      ? NOT_YET.readings
      : reversal.kind !== 'reversed'
        ? NOT_YET.reversal
        : sigma === null
          ? NOT_YET.step
          : null
  const keep = () => {
    const utc = utcOf(form.utc, null)
    if (reversal?.kind !== 'reversed' || sigma === null || utc === null) return
    keepBias({ ...instrument, bias: biasFromHand(reversal, sigma, utc, null) })
  }
  return (
    <MountFrame
      station={station}
      title={instrument.name}
      action={
        <Action notNow={notNow} onPress={keep}>
          {TURN.keep}
        </Action>
      }
    >
      <UnsavedNotice />
      <Text>{INSTRUMENTS.byHandText}</Text>
      <TwoReadings
        mount={station.mount}
        what="dish-elevation"
        form={form}
        set={change => setForm(before => ({ ...before, ...change }))}
        own={own}
        plus={LEVEL.sameEnd}
      />
    </MountFrame>
  )
}

/** Compare a tracking program with ours: the person types what it shows and reads what the difference looks like. */
import type { ProgramJson } from '../../core/check/programjson.ts'
import { AXES } from '../../core/mount/names.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { SOURCE_NAMES } from '../../core/sky/sources.ts'
import { takeTrueMs } from '../../state/ask.ts'
import { feedHere } from '../../state/chosenfeed.ts'
import { askProgram } from '../../state/program.ts'
import { useAsked, useSolveKey } from '../kit/asked.ts'
import { Action, ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { Choice } from '../kit/Choice.tsx'
import { DemoMark } from '../kit/DemoMark.tsx'
import { FeedInUse } from '../kit/FeedInUse.tsx'
import { NumberField, UtcField } from '../kit/fields.tsx'
import { degrees } from '../kit/format.ts'
import { HelpLine } from '../kit/HelpLine.tsx'
import { useKept } from '../kit/keptany.ts'
import { throughFeed } from '../kit/loss.ts'
import { MORE_WAYS } from '../kit/moreways.ts'
import { Notice } from '../kit/Notice.tsx'
import { BigNumber, Sentence, Text } from '../kit/numbers.tsx'
import { PlaceFrame } from '../kit/PlaceFrame.tsx'
import { readingKind, readingLabel } from '../kit/readings.ts'
import { SIGHTING } from '../kit/sighting/words.ts'
import { ComparedPlace } from './ComparedPlace.tsx'
import {
  emptyPlace,
  emptyProgram,
  marked,
  opened,
  PROGRAM_KINDS,
  type ProgramForm,
  programWish,
  readPlace,
  removed,
  type TypedPlace,
  taken,
  typedSigma,
} from './form.ts'
import { LACK_WORDS, PROGRAM, placeCostWords, programSaid } from './words.ts'

export function CorrectProgram({ station }: { station: StationRecord }) {
  const [form, setForm] = useKept<ProgramForm>(`program.${station.id}`, emptyProgram)
  const isOpen = form.isOpen || form.places.length === 0
  const read = readPlace(form.typed, station)
  return (
    <PlaceFrame
      present="correct"
      title={MORE_WAYS.program}
      side={
        <HelpLine>
          {PROGRAM.help.map(text => (
            <p key={text}>{text}</p>
          ))}
        </HelpLine>
      }
      action={
        isOpen && form.typed.utc.trim() === '' ? (
          <Action onPress={() => setForm(marked(form, takeTrueMs()))}>{PROGRAM.readIt}</Action>
        ) : isOpen ? (
          <Action
            notNow={'lacks' in read ? LACK_WORDS(read.lacks, station.mount) : null}
            onPress={() => setForm(taken(form))}
          >
            {PROGRAM.compare}
          </Action>
        ) : (
          <Action onPress={() => setForm({ ...form, isOpen: true })}>{PROGRAM.another}</Action>
        )
      }
    >
      <DemoMark station={station} />
      {isOpen ? (
        <Typing station={station} form={form} setForm={setForm} />
      ) : (
        <Compared station={station} form={form} setForm={setForm} />
      )}
    </PlaceFrame>
  )
}

interface PartProps {
  station: StationRecord
  form: ProgramForm
  setForm: (next: ProgramForm) => void
}

function Typing({ station, form, setForm }: PartProps) {
  const { typed } = form
  const set = (change: Partial<TypedPlace>) => setForm({ ...form, typed: { ...typed, ...change } })
  const isSource = typed.target === 'source'
  return (
    <>
      {form.places.length === 0 && <Text>{PROGRAM.lead}</Text>}
      <Choice
        label={SIGHTING.target}
        value={typed.target}
        options={[
          { value: 'moon', word: SIGHTING.moon },
          { value: 'sun', word: SIGHTING.sun },
          { value: 'source', word: SIGHTING.targetOthers.source },
        ]}
        onPick={target => set({ target })}
      />
      {isSource && (
        <Choice
          label={SIGHTING.source}
          long
          value={typed.source}
          options={SOURCE_NAMES.map(value => ({ value, word: value }))}
          onPick={source => set({ source })}
        />
      )}
      <UtcField
        label={SIGHTING.utc}
        text={typed.utc}
        hint={PROGRAM.timeHint}
        onText={utc => set({ utc })}
        {...(typed.utc.trim() !== '' && { onNow: () => setForm(marked(form, takeTrueMs())) })}
      />
      <NumberField
        label={PROGRAM.azimuth}
        kind={PROGRAM_KINDS.az}
        text={typed.az}
        hint={PROGRAM.digits}
        signButton={false}
        onText={az => set({ az })}
      />
      <NumberField
        label={PROGRAM.elevation}
        kind={PROGRAM_KINDS.el}
        text={typed.el}
        hint={PROGRAM.digits}
        onText={el => set({ el })}
      />
      <HelpLine word={PROGRAM.readings}>
        {AXES.map(axis => (
          <NumberField
            key={axis}
            label={readingLabel(station.mount, axis)}
            kind={readingKind(station.mount, axis)}
            text={typed[axis]}
            signButton={station.mount[axis].minReading < 0}
            onText={text => set({ [axis]: text })}
          />
        ))}
      </HelpLine>
      {form.places.length > 0 && (
        <ButtonRow>
          <SecondaryButton
            onPress={() =>
              setForm({ ...form, isOpen: false, editing: -1, typed: emptyPlace(typed.target, typed.source) })
            }
          >
            {PROGRAM.leave}
          </SecondaryButton>
          {form.editing >= 0 && (
            <SecondaryButton stop onPress={() => setForm(removed(form))}>
              {PROGRAM.remove}
            </SecondaryButton>
          )}
        </ButtonRow>
      )}
    </>
  )
}

function Compared({ station, form, setForm }: PartProps) {
  const feed = feedHere(station)
  const wish = programWish(form.places, station)
  const solve = useSolveKey(station)
  const key = wish && `${solve} ${feed} ${JSON.stringify(wish)}`
  const { told, value, asking } = useAsked(key, () => askProgram(station, feed, wish!))
  const present = asking ? null : value
  return (
    <>
      {told?.kind === 'failed' && !asking && (
        <Notice state="stop">
          {PROGRAM.failed} {told.message}
        </Notice>
      )}
      {asking && <Sentence>{PROGRAM.asking}</Sentence>}
      {present && <Verdict station={station} told={present} form={form} />}
      {present?.rows.map((row, k) => (
        <ComparedPlace
          key={`${k} ${row.utc}`}
          station={station}
          row={row}
          typed={form.places[k]!}
          onEdit={() => setForm(opened(form, k))}
        />
      ))}
      <FeedInUse station={station} />
    </>
  )
}

function Verdict({ station, told, form }: { station: StationRecord; told: ProgramJson; form: ProgramForm }) {
  const said = programSaid(told, station.site.lonDeg)
  const worst = told.rows.reduce((a, b) => (b.apartDeg > a.apartDeg ? b : a))
  const isCoarse = typedSigma(form.places) > 0.1
  return (
    <>
      <Notice state={said.state} live="status" word={said.head}>
        {said.text.map(text => (
          <p key={text}>{text}</p>
        ))}
      </Notice>
      <BigNumber label={PROGRAM.apart} value={degrees(worst.apartDeg, worst.apartDeg < 9.95 ? 2 : 0)} size={2} />
      <Text>{placeCostWords(worst.echoLossDb, throughFeed(station, feedHere(station)))}</Text>
      {isCoarse && <Text quiet>{PROGRAM.whole}</Text>}
      {told.rows.length === 1 && told.verdict !== 'several' && <Text quiet>{PROGRAM.onePlace}</Text>}
    </>
  )
}

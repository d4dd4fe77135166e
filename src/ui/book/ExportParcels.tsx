/** What is exported, made before the tap: the field book, the solution, the target table. */
import { useEffect, useMemo, useState } from 'preact/hooks'
import type { TargetRecord } from '../../core/records/fieldbook.ts'
import { LARGEST_FILE } from '../../core/records/jsontext.ts'
import { targetFromText } from '../../core/records/targetname.ts'
import { takeTrueMs } from '../../state/ask.ts'
import { fieldBook } from '../../state/book.ts'
import { feedHere } from '../../state/chosenfeed.ts'
import { askSolution, askTable, bookParcel, fileName, type Parcel, parcelOf } from '../../state/export.ts'
import { BACKUP } from '../kit/backupwords.ts'
import { Choice } from '../kit/Choice.tsx'
import { FeedChoice } from '../kit/FeedChoice.tsx'
import { NumberField, TextField, UtcField } from '../kit/fields.tsx'
import { fixed, seenText } from '../kit/format.ts'
import { Notice } from '../kit/Notice.tsx'
import { parseNumber } from '../kit/numberfield.ts'
import { Name, Row, Rows, Text } from '../kit/numbers.tsx'
import { parseUtc } from '../kit/utcfield.ts'
import { EXPORT } from './words.ts'

export type What = 'book' | 'solution' | 'table'
/** What is ready for export, why it is not, or null while it is being made. */
export type ParcelReady = { parcel: Parcel } | { why: string } | null

const isoSecond = (ms: number): string => new Date(ms).toISOString().replace(/\.\d+Z$/, 'Z')

interface ParcelProps {
  nowMs: number
  onReady: (ready: ParcelReady) => void
}

export function BookParcel({ nowMs, onReady }: ParcelProps) {
  const [which, setWhich] = useState<'one' | 'all'>('one')
  const station = fieldBook.station.value!
  // A rehearsal is exported alone, when it is the station shown, and never with real stations.
  const stations = fieldBook.stations.value.filter(s => s.rehearsal !== true)
  const records = fieldBook.records.value
  const { unsaved } = fieldBook
  const parcel = useMemo(
    () =>
      which === 'one'
        ? bookParcel(station.name, nowMs, [station.id])
        : bookParcel(
            'moonplumb',
            nowMs,
            stations.map(s => s.id),
          ),
    [which, station.id, records, unsaved.value, nowMs],
  )
  useEffect(() => {
    const { size } = parcel.file
    onReady(size > LARGEST_FILE ? { why: BACKUP.tooLarge(fixed(size / 1e6, 1)) } : { parcel })
  }, [parcel])
  if (stations.length < 2 || station.rehearsal === true) return null
  return (
    <Choice
      label={EXPORT.which}
      options={[
        { value: 'one', word: EXPORT.one, note: <Name>{station.name}</Name> },
        { value: 'all', word: EXPORT.all, note: String(stations.length) },
      ]}
      value={which}
      onPick={setWhich}
    />
  )
}

/** Solved for a time that is shown, so that the batch command can be asked for the same. */
export function SolutionParcel({ nowMs, onReady }: ParcelProps) {
  const nowUtc = isoSecond(nowMs)
  const station = fieldBook.station.value!
  useEffect(() => {
    let alive = true
    onReady(null)
    void askSolution(nowUtc).then(made => {
      if (!alive || made === null) return
      onReady('why' in made ? made : { parcel: parcelOf(fileName(station.name, 'solution', nowMs), made.text) })
    })
    return () => {
      alive = false
    }
  }, [station, nowUtc])
  return (
    <>
      <Rows>
        <Row label={EXPORT.solvedAt}>{nowUtc}</Row>
      </Rows>
      <Text quiet>{EXPORT.sameAtDesk(nowUtc)}</Text>
    </>
  )
}

/** As the field wants it, in whole seconds. */
const asTyped = (ms: number): string => isoSecond(ms).replace('T', ' ').replace('Z', '')

/** More rows than this are for the batch command. */
const MOST_ROWS = 20_000

export function TableParcel({ nowMs, onReady }: ParcelProps) {
  const station = fieldBook.station.value!
  const [target, setTarget] = useState<'moon' | 'sun' | 'other'>('moon')
  const [other, setOther] = useState('')
  const [fromText, setFrom] = useState(() => asTyped(takeTrueMs()))
  const [hoursText, setHours] = useState('24')
  const [stepText, setStep] = useState('10')
  const [feed, setFeed] = useState(feedHere(station))
  const [outside, setOutside] = useState<'empty' | 'given'>('empty')
  const read = targetFromText(target === 'other' ? other.trim() : target)
  const from = parseUtc(fromText, nowMs)
  const hours = parseNumber(hoursText, HOURS)
  const step = parseNumber(stepText, MINUTES)
  const whole = from.kind === 'value' && hours.kind === 'value' && step.kind === 'value'
  const rows = whole && step.value > 0 ? Math.ceil((hours.value * 60) / step.value) : 0
  const wish =
    read.ok && whole && rows > 0 && rows <= MOST_ROWS
      ? {
          now: isoSecond(nowMs),
          target: read.value as TargetRecord,
          fromUtc: new Date(from.utcMs).toISOString(),
          hours: hours.value,
          stepS: step.value * 60,
          feed,
          allReadings: outside === 'given',
        }
      : null
  const key = JSON.stringify(wish)
  const why = rows > MOST_ROWS ? EXPORT.tooMany(rows) : EXPORT.preparing
  useEffect(() => {
    let alive = true
    onReady(wish === null ? { why } : null)
    if (wish !== null)
      void askTable(wish).then(made => {
        if (!alive || made === null) return
        onReady(
          'why' in made
            ? made
            : {
                parcel: parcelOf(
                  fileName(station.name, 'targets', from.kind === 'value' ? from.utcMs : nowMs, 'csv'),
                  made.text,
                ),
              },
        )
      })
    return () => {
      alive = false
    }
  }, [key, station, why])
  return (
    <>
      <Choice
        label={EXPORT.target}
        options={[
          { value: 'moon', word: 'Moon' },
          { value: 'sun', word: 'Sun' },
          { value: 'other', word: EXPORT.other },
        ]}
        value={target}
        onPick={setTarget}
      />
      {target === 'other' && (
        <TextField
          label={EXPORT.otherTarget}
          text={other}
          onText={setOther}
          hint={EXPORT.otherHint}
          wrong={other.trim() !== '' && !read.ok ? read.faults[0]!.rule : null}
        />
      )}
      <FeedChoice station={station} label="Feed" value={feed} onPick={setFeed} />
      <UtcField
        label={EXPORT.from}
        text={fromText}
        dayMs={nowMs}
        onText={text => setFrom(text)}
        onNow={() => setFrom(asTyped(takeTrueMs()))}
      />
      <NumberField label={EXPORT.hours} kind={HOURS} text={hoursText} onText={text => setHours(text)} />
      <NumberField label={EXPORT.step} kind={MINUTES} text={stepText} onText={text => setStep(text)} />
      <Choice
        label={EXPORT.outside}
        long
        options={[
          { value: 'empty', word: EXPORT.empty, note: EXPORT.emptyNote },
          { value: 'given', word: EXPORT.given, note: EXPORT.givenNote },
        ]}
        value={outside}
        onPick={setOutside}
      />
      {outside === 'given' && <Notice state="caution">{EXPORT.outsideCaution}</Notice>}
      {rows > 0 && rows <= MOST_ROWS && <Text quiet>{seenText(EXPORT.rows(rows))}</Text>}
    </>
  )
}
const HOURS = { form: 'number', unit: 'h', min: 0, max: 8784 } as const
const MINUTES = { form: 'number', unit: 'min', min: 0, max: 1440 } as const

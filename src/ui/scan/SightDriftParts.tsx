/** What the screens of both scans share: their frame, target, feed and scale, cautions, questions, the way back. */
import { useMemo } from 'preact/hooks'
import type { StationRecord, TargetRecord } from '../../core/records/fieldbook.ts'
import { dishAnswer } from '../../core/tape/measured.ts'
import type { Told } from '../../state/ask.ts'
import { chooseForScan, type TargetNote } from '../../state/scantarget.ts'
import { SecondaryButton } from '../kit/buttons.tsx'
import { Caution } from '../kit/Caution.tsx'
import { Choice } from '../kit/Choice.tsx'
import { DemoMark } from '../kit/DemoMark.tsx'
import { FeedChoice } from '../kit/FeedChoice.tsx'
import { lengthUnit } from '../kit/format.ts'
import { Notice } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { Text } from '../kit/numbers.tsx'
import { PlaceFrame, type StationFrameProps } from '../kit/PlaceFrame.tsx'
import { targetWords } from '../kit/phrases.ts'
import { UnsavedNotice } from '../kit/SavedLine.tsx'
import { CAUTION, SIGHTING } from '../kit/sighting/words.ts'
import type { Scale } from './form.ts'
import type { ScanSaid } from './says.ts'
import { DRIFT, SCAN_CAUTION, targetNoteWords } from './words.ts'

export function ScanFrame({ station, children, ...frame }: StationFrameProps) {
  return (
    <PlaceFrame present="sight" {...frame}>
      <UnsavedNotice />
      {children}
      <DemoMark station={station} />
    </PlaceFrame>
  )
}

/** The target that drifts or is stepped across. */
export function ScanTarget(p: { station: StationRecord; feed: string; of: TargetRecord; note: TargetNote | null }) {
  const { station, feed, of, note } = p
  const picked = of.type === 'moon' || of.type === 'sun' ? of.type : 'other'
  return (
    <>
      <div class="sight-targets">
        <Choice
          label={SIGHTING.lookAt}
          value={picked}
          options={[
            { value: 'sun', word: SIGHTING.sun },
            { value: 'moon', word: SIGHTING.moon },
            { value: 'other', word: picked === 'other' ? targetWords(of) : SIGHTING.other },
          ]}
          onPick={value => (value === 'other' ? go('sight', 'other') : chooseForScan(station, feed, { type: value }))}
        />
        {picked === 'other' && <SecondaryButton onPress={() => go('sight', 'other')}>Change</SecondaryButton>}
      </div>
      {note?.kind === 'instead' && <Text>{targetNoteWords(note)}</Text>}
      {note !== null && note.kind !== 'instead' && <Notice state="look-out">{targetNoteWords(note)}</Notice>}
    </>
  )
}

export function FeedAndScale(p: {
  /** Nothing is typed that has a scale. */
  noScale?: boolean
  station: StationRecord
  feed: string
  onFeed: (feed: string) => void
  scale: Scale
  onScale: (scale: Scale) => void
}) {
  return (
    <>
      <FeedChoice station={p.station} label={DRIFT.feed} value={p.feed} onPick={p.onFeed} />
      {!p.noScale && (
        <Choice
          label={DRIFT.scale}
          value={p.scale}
          options={(['dB', 'linear'] as const).map(value => ({ value, word: DRIFT.scales[value] }))}
          onPick={p.onScale}
          hint={p.scale === 'linear' ? DRIFT.scaleNote : undefined}
        />
      )}
    </>
  )
}

/** Where the act is. */
export function ScanCaution({ station, target }: { station: StationRecord; target: TargetRecord }) {
  const sun = useMemo(() => (target.type === 'sun' ? dishAnswer(station).sun : null), [station, target.type])
  // It may be heard by one's own echoes.
  if (target.type === 'moon') return <Caution {...CAUTION.moon} />
  return target.type === 'sun' ? (
    <Caution
      act="scan"
      gravest={SCAN_CAUTION.gravest}
      more={[SCAN_CAUTION.sun(sun, lengthUnit()), SCAN_CAUTION.jacks]}
    />
  ) : (
    <Caution act="scan" gravest={SCAN_CAUTION.jacks} />
  )
}

export function ScanVerdict({ said }: { said: ScanSaid }) {
  return (
    <Notice state={said.state} live="status">
      <p>
        <strong>{said.strong}</strong>
      </p>
      {said.more.map(words => (
        <p key={words}>{words}</p>
      ))}
    </Notice>
  )
}

export const FailedNote = ({ told }: { told: Told<unknown> }) =>
  told?.kind === 'failed' ? <Text>{DRIFT.failed(told.message)}</Text> : null

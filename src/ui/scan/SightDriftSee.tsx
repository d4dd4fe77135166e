/** A drift scan seen: the curve, what it says, the sighting made from it, and every level with the way to leave it out. */
import { useState } from 'preact/hooks'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { instantMs } from '../../core/records/instant.ts'
import type { DriftScanRecord, ScanRecord } from '../../core/records/scans.ts'
import { type HeardLevel, heardIn, leaveOutLevel, sightingOfScan } from '../../state/scans.ts'
import { Action, ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { Choice } from '../kit/Choice.tsx'
import { levelText, utcTime } from '../kit/format.ts'
import { HelpLine } from '../kit/HelpLine.tsx'
import { LongList } from '../kit/LongList.tsx'
import { go } from '../kit/navigation.ts'
import { Row, Rows, Table, Text } from '../kit/numbers.tsx'
import { targetWords, whenToSecond } from '../kit/phrases.ts'
import { UndoStrip } from '../kit/undo.tsx'
import { msAt } from './form.ts'
import { Centre } from './SightDriftCentre.tsx'
import { ScanFrame } from './SightDriftParts.tsx'
import { DriftAnswerPicture, levelId, useDriftFit } from './SightDriftPicture.tsx'
import { DeleteScan, SightingAction } from './SightDriftSighting.tsx'
import { driftRows } from './says.ts'
import { DRIFT, settingWords } from './words.ts'

interface SeeProps {
  station: StationRecord
  records: readonly ScanRecord[]
  scan: DriftScanRecord
}

export function DriftSee({ station, records, scan }: SeeProps) {
  const [width, setWidth] = useState<'free' | 'known'>('free')
  const { answer, isFresh, told } = useDriftFit({ station, records, scan }, width)
  const fit = isFresh && answer?.kind === 'peak' ? answer : null
  const sighting = sightingOfScan(station, scan.id)
  const isOpen = scan.how !== 'pasted'
  return (
    <ScanFrame
      station={station}
      title={DRIFT.title}
      action={
        <SightingAction
          station={station}
          scan={scan}
          draft={fit?.sighting ?? null}
          otherwise={
            <Action onPress={() => (isOpen ? go('sight', 'drift', 'run', scan.id) : go('sight', 'drift'))}>
              {isOpen ? DRIFT.goOn : DRIFT.back}
            </Action>
          }
        />
      }
      side={
        <>
          {fit !== null && <Table rows={driftRows(fit)} />}
          <Choice
            label={DRIFT.width}
            value={width}
            options={(['free', 'known'] as const).map(value => ({ value, word: DRIFT.widths[value] }))}
            onPick={setWidth}
          />
          <ButtonRow>
            {isOpen && (
              <SecondaryButton onPress={() => go('sight', 'drift', 'run', scan.id)}>{DRIFT.goOn}</SecondaryButton>
            )}
            <SecondaryButton onPress={() => go('sight', 'drift')}>{DRIFT.back}</SecondaryButton>
            <DeleteScan station={station} scan={scan} />
          </ButtonRow>
          <UndoStrip of="scan" />
          {sighting !== null && <Text quiet>{DRIFT.removeNote}</Text>}
          <Centre station={station} scan={scan} />
          <Levels station={station} records={records} scan={scan} />
        </>
      }
    >
      <DriftAnswerPicture station={station} records={records} scan={scan} answer={answer} told={told} />
      <Rows>
        <Row label={targetWords(scan.target)}>{whenToSecond(instantMs(scan.utc))}</Row>
        <Row label="Parked at">{settingWords(station.mount, scan.lower, scan.upper)}</Row>
      </Rows>
    </ScanFrame>
  )
}

function Levels({ station, records, scan }: SeeProps) {
  const { samples } = heardIn(records, scan)
  return (
    <HelpLine word={DRIFT.levels}>
      <LongList
        label={DRIFT.levels}
        class="sight-list"
        items={samples}
        keyOf={levelId}
        draw={s => <OneLevel station={station.id} scan={scan} level={s} />}
      />
    </HelpLine>
  )
}

function OneLevel({ station, scan, level }: { station: string; scan: DriftScanRecord; level: HeardLevel }) {
  const isOut = level.out === true
  const text = levelText(scan.scale, level.level)
  const turn = () => leaveOutLevel(station, scan, level.level, level.at, !isOut)
  return (
    <div class="list-entry">
      <span>
        {utcTime(msAt(scan.utc, level.s))}: {isOut ? <s>{text}</s> : text}
      </span>
      <SecondaryButton onPress={() => void turn()}>{isOut ? DRIFT.takeIn : DRIFT.leaveOut}</SecondaryButton>
    </div>
  )
}

/** A cross scan seen: both arms, what they say, the sighting made from it, and every level with the way to leave it out. */
import { useState } from 'preact/hooks'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { instantMs } from '../../core/records/instant.ts'
import type { CrossScanRecord } from '../../core/records/scans.ts'
import { leaveOutLevel, sightingOfScan } from '../../state/scans.ts'
import { Action, ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { Choice } from '../kit/Choice.tsx'
import { levelText, utcTime } from '../kit/format.ts'
import { HelpLine } from '../kit/HelpLine.tsx'
import { go } from '../kit/navigation.ts'
import { Row, Rows, Table, Text } from '../kit/numbers.tsx'
import { targetWords, whenToSecond } from '../kit/phrases.ts'
import { UndoStrip } from '../kit/undo.tsx'
import { msAt } from './form.ts'
import { Arms, useCrossFit } from './SightCrossPicture.tsx'
import { ScanFrame } from './SightDriftParts.tsx'
import { DeleteScan, SightingAction } from './SightDriftSighting.tsx'
import { crossRows } from './says.ts'
import { CROSS, DRIFT, settingWords } from './words.ts'

export function CrossSee({ station, scan }: { station: StationRecord; scan: CrossScanRecord }) {
  const { mount } = station
  const [width, setWidth] = useState<'free' | 'known'>('known')
  const { answer, isFresh, told } = useCrossFit(station, scan, width)
  const fit = isFresh && answer?.kind === 'peak' ? answer : null
  const sighting = sightingOfScan(station, scan.id)
  return (
    <ScanFrame
      station={station}
      title={CROSS.title}
      action={
        <SightingAction
          station={station}
          scan={scan}
          draft={fit?.sighting ?? null}
          otherwise={<Action onPress={() => go('sight', 'cross', 'run', scan.id)}>{CROSS.goOn}</Action>}
        />
      }
      side={
        <>
          {fit !== null && <Table rows={crossRows(mount, fit)} />}
          <Choice
            label={DRIFT.width}
            value={width}
            options={(['known', 'free'] as const).map(value => ({ value, word: DRIFT.widths[value] }))}
            onPick={setWidth}
          />
          <ButtonRow>
            <SecondaryButton onPress={() => go('sight', 'cross', 'run', scan.id)}>{CROSS.goOn}</SecondaryButton>
            <SecondaryButton onPress={() => go('sight', 'cross')}>{CROSS.back}</SecondaryButton>
            <DeleteScan station={station} scan={scan} />
          </ButtonRow>
          <UndoStrip of="scan" />
          {sighting !== null && <Text quiet>{DRIFT.removeNote}</Text>}
          <Levels station={station} scan={scan} />
        </>
      }
    >
      <Arms station={station} scan={scan} answer={answer} told={told} />
      <Rows>
        <Row label={targetWords(scan.target)}>{whenToSecond(instantMs(scan.utc))}</Row>
      </Rows>
    </ScanFrame>
  )
}

function Levels({ station, scan }: { station: StationRecord; scan: CrossScanRecord }) {
  return (
    <HelpLine word={DRIFT.levels}>
      {scan.samples.map((s, index) => {
        const isOut = s.out === true
        const text = levelText(scan.scale, s.level)
        return (
          <div class="list-entry" key={index}>
            <span>
              {utcTime(msAt(scan.utc, s.s))}, {settingWords(station.mount, s.lower, s.upper)}:{' '}
              {isOut ? <s>{text}</s> : text}
            </span>
            <SecondaryButton
              onPress={() => void leaveOutLevel(station.id, scan, s.level, { record: scan.id, index }, !isOut)}
            >
              {isOut ? DRIFT.takeIn : DRIFT.leaveOut}
            </SecondaryButton>
          </div>
        )
      })}
    </HelpLine>
  )
}

/** A cross scan seen: both arms, what they say, the sighting made from it, and every level with the way to leave it out. */
import { useState } from 'preact/hooks'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import type { CrossScanRecord } from '../../core/records/scans.ts'
import { deleteScan, keepScanSighting, leaveOut, saysTheSame, sightingOfScan } from '../../state/scans.ts'
import { utcTime } from '../format.ts'
import { go } from '../navigation.ts'
import { Action, Second, Seconds } from '../parts/buttons.tsx'
import { Choice } from '../parts/Choice.tsx'
import { HelpLine } from '../parts/HelpLine.tsx'
import { Row, Rows, Text } from '../parts/numbers.tsx'
import { msAt } from '../scanform.ts'
import { targetWords } from '../words/common.ts'
import { CROSS, crossRows, DRIFT, levelText, SCAN_STEPS, settingWords } from '../words/scan.ts'
import { whenWords } from '../words/sight.ts'
import { Arms, useCrossFit } from './SightCrossPicture.tsx'
import { FactRows, Refused, ScanFrame, ScanUndo } from './SightDriftParts.tsx'

export function CrossSee({ station, scan }: { station: StationRecord; scan: CrossScanRecord }) {
  const { mount } = station
  const [width, setWidth] = useState<'free' | 'known'>('known')
  const [refused, setRefused] = useState<string | null>(null)
  const { answer, isFresh, told } = useCrossFit(station, scan, width)
  const fit = isFresh && answer?.kind === 'peak' ? answer : null
  const sighting = sightingOfScan(station, scan.id)
  const isSame = sighting !== null && fit !== null && saysTheSame(sighting, fit.sighting)
  const keep = async () => {
    if (fit === null) return
    const kept = await keepScanSighting(station, fit.sighting, SCAN_STEPS.sighting('cross'))
    setRefused(kept.kind === 'refused' ? kept.faults.map(f => f.rule).join('. ') : null)
    if (kept.kind === 'kept') go('sight', 'see', kept.id)
  }
  return (
    <ScanFrame
      station={station}
      title={CROSS.title}
      action={
        fit !== null && !isSame ? (
          <Action onPress={() => void keep()}>{sighting === null ? DRIFT.makeSighting : DRIFT.renewSighting}</Action>
        ) : sighting !== null ? (
          <Action onPress={() => go('sight', 'see', sighting.id)}>{DRIFT.seeSighting}</Action>
        ) : (
          <Action onPress={() => go('sight', 'cross', 'run', scan.id)}>{CROSS.goOn}</Action>
        )
      }
      side={
        <>
          {fit !== null && <FactRows rows={crossRows(mount, fit)} />}
          <Choice
            label={DRIFT.width}
            value={width}
            options={(['known', 'free'] as const).map(value => ({ value, word: DRIFT.widths[value] }))}
            onPick={setWidth}
          />
          <Seconds>
            <ScanUndo />
            <Second onPress={() => go('sight', 'cross', 'run', scan.id)}>{CROSS.goOn}</Second>
            <Second onPress={() => go('sight', 'cross')}>{CROSS.back}</Second>
            <Second
              stop
              onPress={() =>
                void deleteScan(station, scan.id, SCAN_STEPS.remove('cross')).then(done => done && go('sight', 'cross'))
              }
            >
              {DRIFT.remove}
            </Second>
          </Seconds>
          {sighting !== null && <Text quiet>{DRIFT.removeNote}</Text>}
          <Levels station={station} scan={scan} />
        </>
      }
    >
      <Arms station={station} scan={scan} answer={answer} told={told} />
      <Rows>
        <Row label={targetWords(scan.target)}>{whenWords(Date.parse(scan.utc))}</Row>
      </Rows>
      <Refused why={refused} />
    </ScanFrame>
  )
}

function Levels({ station, scan }: { station: StationRecord; scan: CrossScanRecord }) {
  return (
    <HelpLine word={DRIFT.levels}>
      {scan.samples.map((s, index) => {
        const isOut = s.out === true
        const text = levelText(scan.scale, s.level)
        const what = isOut ? SCAN_STEPS.in(text) : SCAN_STEPS.out(text)
        return (
          <div class="scan-level" key={index}>
            <span>
              {utcTime(msAt(scan.utc, s.s))}, {settingWords(station.mount, s.lower, s.upper)}:{' '}
              {isOut ? <s>{text}</s> : text}
            </span>
            <Second onPress={() => void leaveOut(station.id, { record: scan.id, index }, !isOut, what)}>
              {isOut ? DRIFT.takeIn : DRIFT.leaveOut}
            </Second>
          </div>
        )
      })}
    </HelpLine>
  )
}

/** One reading of a mark, one change: what it says, what it means, and how to edit or delete it. */
import { carriedOverChange } from '../../core/level/carryover.ts'
import { compareMark } from '../../core/level/marks.ts'
import { positionNames } from '../../core/level/positions.ts'
import type { ChangeRecord, ReferenceRecord, StationRecord } from '../../core/records/fieldbook.ts'
import { Action } from '../kit/buttons.tsx'
import { changeWords } from '../kit/changewords.ts'
import { RecordScreen } from '../kit/mount/RecordScreen.tsx'
import { MOUNT } from '../kit/mount/words.ts'
import { Notice } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { Name, Row, Rows, Sentence, Text } from '../kit/numbers.tsx'
import { whenToMinute } from '../kit/phrases.ts'
import { readingWords } from '../kit/readings.ts'
import { CHANGE, carryWords, expectedValueWords, MARK, markVerdictWords, unknownLabel } from './words.ts'

export function MarkSee({ station, mark }: { station: StationRecord; mark: ReferenceRecord }) {
  const compared = compareMark(station, mark)
  const verdict = markVerdictWords(station.mount, mark, compared)
  const closes = mark.visit === 'start' && !verdict.differs ? MARK.closeRun : null
  const { axis, utc } = mark
  return (
    <RecordScreen
      station={station}
      item={{ kind: 'reference', record: mark }}
      title="A mark read"
      // A mark that differs asks for a change; everything else leads back.
      action={
        verdict.differs && (
          <Action onPress={() => go('mount', 'change', `${axis}-zero`, utc)}>{CHANGE.noteChange}</Action>
        )
      }
    >
      <Notice state={verdict.differs ? 'look-out' : 'good'} live="status">
        {verdict.text}
        {compared.kind === 'agrees' && mark.visit === 'end' && ` ${MARK.runClosed}`}
      </Notice>
      {verdict.differs && <Text>{MARK.differs}</Text>}
      <Rows>
        <Row label={<Name>{mark.mark}</Name>}>{readingWords(station.mount, mark.axis, mark.reading)}</Row>
        <Row label={MOUNT.when}>{whenToMinute(mark.utc)}</Row>
      </Rows>
      {closes && <Text>{closes}</Text>}
    </RecordScreen>
  )
}

export function ChangeSee({ station, change }: { station: StationRecord; change: ChangeRecord }) {
  const { position } = change
  const isKnown = position && positionNames(station, change.what, change.id).includes(position.name)
  const words = carryWords(
    station,
    carriedOverChange(station, change.what, change.expect),
    isKnown ? position.name : null,
  )
  return (
    <RecordScreen station={station} item={{ kind: 'change', record: change }} title="A change">
      <Sentence strong>{changeWords(station, change)}</Sentence>
      <Rows>
        <Row label={CHANGE.setupSince}>{whenToMinute(change.utc)}</Row>
        {position && (
          <Row label={CHANGE.positionRow}>
            <Name>{position.name}</Name>
          </Row>
        )}
        {position?.before !== undefined && (
          <Row label={CHANGE.positionWas}>
            <Name>{position.before}</Name>
          </Row>
        )}
        {(change.expect ?? []).map(e => (
          <Row key={`${e.id} ${e.feed ?? ''}`} label={CHANGE.expected}>
            {unknownLabel(station, e.id)}: {expectedValueWords(e)}
          </Row>
        ))}
      </Rows>
      <Text>{words.anew}</Text>
      <Text>{words.stays}</Text>
      {words.needed && <Text>{words.needed}</Text>}
    </RecordScreen>
  )
}

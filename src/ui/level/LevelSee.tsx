/** A level in the book: its value, what it was made from, and what the solution does with it. */
import type { LevelRecord, StationRecord, Taken } from '../../core/records/fieldbook.ts'
import { isSwung } from '../../core/records/levelkinds.ts'
import { instrumentName } from '../../state/instruments.ts'
import { RecordScreen } from '../kit/mount/RecordScreen.tsx'
import { MOUNT } from '../kit/mount/words.ts'
import { Name, Row, Rows, Sentence, Text } from '../kit/numbers.tsx'
import { whenToMinute } from '../kit/phrases.ts'
import { takenRows } from './phonewords.ts'
import { levelWords, rawWords, shimWords, solutionUse } from './says.ts'
import { LEVEL } from './words.ts'

const takenOf = (level: LevelRecord): Taken[] =>
  level.raw?.taken ?? (level.raw?.around ?? []).flatMap(a => (a.taken ? [a.taken] : []))

export function LevelSee({ station, level }: { station: StationRecord; level: LevelRecord }) {
  const shim = level.what === 'mast-lean' ? shimWords(level.northDeg, level.eastDeg, level.sigmaDeg) : null
  return (
    <RecordScreen
      station={station}
      item={{ kind: 'level', record: level }}
      title="A level"
      {...(isSwung(level) && { edit: ['swing', 'edit', level.id] })}
    >
      <Sentence strong>{levelWords(station.mount, level)}</Sentence>
      {shim && <Sentence>{shim}</Sentence>}
      <Rows>
        <Row label={MOUNT.when}>{whenToMinute(level.utc)}</Row>
        {level.instrument !== undefined && (
          <Row label={LEVEL.instrument}>
            <Name>{instrumentName(station, level.instrument)}</Name>
          </Row>
        )}
        {takenRows(takenOf(level)).map(({ label, value }) => (
          <Row key={label} label={label}>
            {value}
          </Row>
        ))}
        {rawWords(level.raw).map(({ label, value }) => (
          <Row key={label} label={label}>
            {value}
          </Row>
        ))}
      </Rows>
      {solutionUse(station, level).map(words => (
        <Text key={words}>{words}</Text>
      ))}
    </RecordScreen>
  )
}

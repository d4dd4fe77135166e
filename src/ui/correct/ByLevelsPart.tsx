/** Before any sighting: what the levels have found, what stays open, and what more of them would tell. */
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { levelName } from '../kit/mount/words.ts'
import { go } from '../kit/navigation.ts'
import { Row, Rows, Sentence, Text } from '../kit/numbers.tsx'
import type { ByLevels } from './bylevels.ts'
import { BY_LEVELS, openSentence } from './bylevelswords.ts'

export function ByLevelsPart({ station, told }: { station: StationRecord; told: ByLevels }) {
  const known = [...told.found, ...told.loose]
  return (
    <section class="correct-part" aria-label={BY_LEVELS.title}>
      <Sentence strong>{known.length === 0 ? BY_LEVELS.nothing : BY_LEVELS.title}</Sentence>
      {known.length > 0 && (
        <Rows>
          {known.map(f => (
            <Row key={f.key} label={f.what} note={told.loose.includes(f) ? BY_LEVELS.loose : undefined}>
              {f.value}
            </Row>
          ))}
        </Rows>
      )}
      <Text>{openSentence(told, station.mount)}</Text>
      <Text>{BY_LEVELS.never}</Text>
      {told.missing.length > 0 && (
        <>
          <Text>{BY_LEVELS.more}</Text>
          <ButtonRow>
            {told.missing.map(what => (
              <SecondaryButton key={what} onPress={() => go('mount', 'measure', what)}>
                {levelName(station.mount, what)}
              </SecondaryButton>
            ))}
          </ButtonRow>
        </>
      )}
    </section>
  )
}

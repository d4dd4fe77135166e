/** What a shadow says: the Sun's offset from the shadow line, against the solution, together with those of the same hour, and their drift. */
import type { SightingRecord, StationRecord } from '../../core/records/fieldbook.ts'
import { instantMs } from '../../core/records/instant.ts'
import { answer } from '../../state/answer.ts'
import { shadowsOfHour, shadowsSay } from '../../state/noon.ts'
import { shadowMeaning } from '../../state/sightings.ts'
import { useAsked } from '../kit/asked.ts'
import { Action, ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { spotWords } from '../kit/dishface-geometry.ts'
import { lengthUnit } from '../kit/format.ts'
import { Notice } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { RowButton, Sentence, Text } from '../kit/numbers.tsx'
import { whenToSecond } from '../kit/phrases.ts'
import { StormOpen } from '../kit/StormOpen.tsx'
import { SunFrame } from '../kit/shadow/parts.tsx'
import { residualSentence, SIGHTING, shadowSentence } from '../kit/sighting/words.ts'
import { UndoStrip } from '../kit/undo.tsx'
import { missSays, NOON, paceSays, togetherSays } from './words.ts'

export function SightNoonSaid({ station, id }: { station: StationRecord; id: string }) {
  const record = station.sightings.find(s => s.id === id && s.shadow !== undefined)
  const again = <Action onPress={() => go('sight', 'noon', 'read')}>{NOON.again}</Action>
  if (record?.shadow === undefined)
    return (
      <SunFrame station={station} title={NOON.said} action={again}>
        <Sentence>{NOON.gone}</Sentence>
      </SunFrame>
    )
  const list = shadowsOfHour(station, record)
  const words = shadowSentence(shadowMeaning(station, record.shadow, record.sigmaDeg))
  const { solution, station: of } = answer.value
  const solved = of === station.id ? solution?.sightings.find(s => s.id === id) : undefined
  return (
    <SunFrame
      station={station}
      title={NOON.said}
      action={again}
      side={<Hour station={station} list={list} solved={solved !== undefined} />}
    >
      <Sentence strong>
        {words.lead}
        {words.off}
        {words.tail}
      </Sentence>
      {solved && <Text>{residualSentence(record.target, solved)}</Text>}
      <Text>{NOON.kept}</Text>
      <ButtonRow>
        <SecondaryButton onPress={() => go('sight', 'see', id)}>{NOON.see}</SecondaryButton>
        <StormOpen station={station} utc={record.utc} />
        <SecondaryButton onPress={() => go('correct', 'feed')}>{NOON.toFeed}</SecondaryButton>
        <SecondaryButton onPress={() => go('sight', 'noon')}>{NOON.done}</SecondaryButton>
      </ButtonRow>
      <UndoStrip of="sight" onUndone={() => go('sight', 'noon', 'read')} />
    </SunFrame>
  )
}

/** All of the hour, averaged, and their drift. */
function Hour(p: { station: StationRecord; list: readonly SightingRecord[]; solved: boolean }) {
  const { station, list, solved } = p
  const unit = lengthUnit()
  const key = JSON.stringify(list.map(s => [s.id, s.utc, s.lower, s.upper, s.shadow, s.sigmaDeg, s.clockOffsetS]))
  const { value: say } = useAsked(key, () => shadowsSay(station, list))
  const pace = say && say.readings.length > 1 ? paceSays(say) : null
  return (
    <section class="correct-part" aria-label={NOON.together}>
      <h2 class="correct-head">{NOON.together}</h2>
      {say === null && <Text quiet>{SIGHTING.weighing}</Text>}
      {say && list.length > 1 && <Sentence>{togetherSays(say)}</Sentence>}
      {say && list.length === 1 && !solved && <Text>{missSays(say.miss, say.miss.sigmaDeg)}</Text>}
      {pace && (
        <Notice state={pace.good === null ? 'next' : pace.good ? 'good' : 'look-out'} live="status">
          {pace.text}
        </Notice>
      )}
      {list.length < 3 && <Text quiet>{NOON.several}</Text>}
      {list.map(s => (
        <RowButton
          key={s.id}
          label={whenToSecond(instantMs(s.utc))}
          value={spotWords(s.shadow!, unit)}
          onPress={() => go('sight', 'see', s.id)}
        />
      ))}
    </section>
  )
}

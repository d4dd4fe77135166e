/** "Mount": what gravity and marks say so far, newest first, and the three things to do. */
import { setupStart } from '../../core/level/carryover.ts'
import { compareMark, openRuns } from '../../core/level/marks.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { trueNow } from '../../state/ask.ts'
import { instrumentName } from '../../state/instruments.ts'
import { readySigns } from '../../state/level.ts'
import { type MountEntry, mountEntries } from '../../state/mountrecords.ts'
import { CHANGE, MARK, runOpenWords, verdictShort } from '../change/words.ts'
import { Action, ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { changeWords } from '../kit/changewords.ts'
import { safeText } from '../kit/format.ts'
import { MountFrame } from '../kit/mount/parts.tsx'
import { AXES_OF } from '../kit/mountwords.ts'
import { Notice } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { RowButton, Sentence, Text } from '../kit/numbers.tsx'
import { whenToMinute } from '../kit/phrases.ts'
import { readingWords } from '../kit/readings.ts'
import { UnsavedNotice } from '../kit/SavedLine.tsx'
import { UndoStrip } from '../kit/undo.tsx'
import { LEVEL_MORE } from '../level/morewords.ts'
import { PHONE } from '../level/phonewords.ts'
import { levelWords } from '../level/says.ts'
import { LEVEL } from '../level/words.ts'

export function LevelList({ station }: { station: StationRecord }) {
  const entries = mountEntries(station)
  return (
    <MountFrame
      station={station}
      title="Mount"
      action={<Action onPress={() => go('mount', 'measure')}>{LEVEL.measure}</Action>}
    >
      <UnsavedNotice />
      <Setup station={station} />
      <Text quiet>{AXES_OF[station.mount.kind]}</Text>
      {openRuns(station, trueNow.value).map(mark => (
        <Notice key={mark.id} state="next" word={MARK.runOpen}>
          <p>{runOpenWords(station.mount, mark)}</p>
          <SecondaryButton onPress={() => go('mount', 'mark', 'end', mark.id)}>{MARK.closeIt}</SecondaryButton>
        </Notice>
      ))}
      <ButtonRow>
        <SecondaryButton
          onPress={() => {
            readySigns()
            go('mount', 'live')
          }}
        >
          {PHONE.live}
        </SecondaryButton>
        <SecondaryButton onPress={() => go('mount', 'mark')}>{MARK.read}</SecondaryButton>
        <SecondaryButton onPress={() => go('mount', 'change')}>{CHANGE.noteChange}</SecondaryButton>
        <SecondaryButton onPress={() => go('mount', 'more')}>{LEVEL_MORE.word}</SecondaryButton>
      </ButtonRow>
      {entries.length === 0 ? (
        <>
          <Sentence strong>{LEVEL.nothing}</Sentence>
          <Text>{LEVEL.nothingWhy}</Text>
        </>
      ) : (
        <section class="level-list" aria-label={LEVEL.entries}>
          <h2>{LEVEL.entries}</h2>
          {entries.map(item => (
            <RowButton
              key={`${item.kind}/${item.record.id}`}
              label={<EntryWords station={station} item={item} />}
              onPress={() => go('mount', 'see', item.kind, item.record.id)}
            />
          ))}
        </section>
      )}
      <UndoStrip of="mount" />
    </MountFrame>
  )
}

/** The span that is measured now. */
function Setup({ station }: { station: StationRecord }) {
  const start = setupStart(station, trueNow.value)
  if (start === null) return null
  return (
    <Text>
      Setup since <strong>{whenToMinute(start.utc)}</strong>: {changeWords(station, start)}.
    </Text>
  )
}

function EntryWords({ station, item }: { station: StationRecord; item: MountEntry }) {
  const { mount } = station
  const when = whenToMinute(item.record.utc)
  if (item.kind === 'level')
    return (
      <>
        {levelWords(mount, item.record)}
        <small>
          {when}
          {item.record.instrument !== undefined && `, ${safeText(instrumentName(station, item.record.instrument))}`}
        </small>
      </>
    )
  if (item.kind === 'change')
    return (
      <>
        {changeWords(station, item.record)}
        <small>
          Change, {when}
          {item.record.note !== undefined && `: ${safeText(item.record.note)}`}
        </small>
      </>
    )
  return (
    <>
      {safeText(item.record.mark)}: {readingWords(mount, item.record.axis, item.record.reading)}
      <small>
        Mark, {when}: {verdictShort(mount, item.record, compareMark(station, item.record))}
      </small>
    </>
  )
}

/** A record was changed elsewhere since its form was opened: both versions, and the choice of one. */
import { differences } from '../../core/records/differences.ts'
import type { Draft, StoredRecord } from '../../core/records/stored.ts'
import type { Clash } from '../../state/book.ts'
import { mountOf } from '../book/recordmount.ts'
import { CLASH } from '../book/words.ts'
import { Action, ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { countOf } from '../kit/format.ts'
import { Notice } from '../kit/Notice.tsx'
import { Text } from '../kit/numbers.tsx'
import { APP } from '../kit/phrases.ts'
import { pathWords, recordWords, valueWords } from '../kit/recordwords.ts'
import { Screen } from '../kit/Screen.tsx'

const MOST = 12

export function ClashScreen({ clash }: { clash: Clash }) {
  const { mine, theirs, answer } = clash
  return (
    <Screen title={APP} present="book" action={<Action onPress={() => answer('back')}>{CLASH.back}</Action>}>
      <Notice state="look-out" word={CLASH.word} live="alert">
        {CLASH.why}
      </Notice>
      {mine.map(draft => (
        <Both key={draft.id} mine={draft} theirs={theirs.find(record => record.id === draft.id)} />
      ))}
      <Text>{CLASH.history}</Text>
      <ButtonRow>
        <SecondaryButton onPress={() => answer('mine')}>{CLASH.mine}</SecondaryButton>
        <SecondaryButton onPress={() => answer('theirs')}>{CLASH.theirs}</SecondaryButton>
      </ButtonRow>
    </Screen>
  )
}

function Both({ mine, theirs }: { mine: Draft; theirs: StoredRecord | undefined }) {
  const found = theirs === undefined ? [] : differences(theirs.body, mine.body, ['revision'])
  const mount = theirs && mountOf(theirs)
  return (
    <section class="book-section">
      <h2>{recordWords(mine.kind, mine.body, mount)}</h2>
      {theirs?.deleted && <Text>{CLASH.deleted}</Text>}
      {mine.deleted && <Text>{CLASH.deletes}</Text>}
      <ul class="book-list">
        {found.slice(0, MOST).map(({ path, before, after }) => (
          <li key={path}>
            {pathWords(path, mount)}: {CLASH.there} {valueWords(before)}, {CLASH.here} {valueWords(after)}
          </li>
        ))}
        {found.length > MOST && <li>and {countOf(found.length - MOST, 'more difference')}</li>}
      </ul>
    </section>
  )
}

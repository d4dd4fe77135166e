/** Deletes a station once its name was typed; a copy stays on this phone. */
import { useState } from 'preact/hooks'
import { fieldBook } from '../../state/book.ts'
import { fieldBookText } from '../../state/export.ts'
import { phoneMs } from '../../state/now.ts'
import { SecondaryButton } from '../kit/buttons.tsx'
import { ConfirmByTyping } from '../kit/fields.tsx'
import { Notice } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { Sentence, Text } from '../kit/numbers.tsx'
import { failureWords } from '../kit/phrases.ts'
import { Screen } from '../kit/Screen.tsx'
import { BOOK, DELETE } from './words.ts'

export function BookDelete() {
  const [text, setText] = useState('')
  const [failure, setFailure] = useState<string | null>(null)
  const station = fieldBook.station.value
  const remove = async () => {
    if (!station) return
    const outcome = await fieldBook.deleteStation(station.id, fieldBookText(phoneMs(), [station.id]))
    if (outcome.kind === 'done') go('book')
    else setFailure(failureWords(outcome))
  }
  return (
    <Screen title={DELETE.title} present="book" onGo={id => go(id)}>
      {station === null ? (
        <Sentence>{BOOK.empty}</Sentence>
      ) : (
        <ConfirmByTyping
          name={station.name}
          what={<Text>{DELETE.what(station)}</Text>}
          word={DELETE.word}
          text={text}
          onText={setText}
          onConfirm={() => void remove()}
        />
      )}
      {failure && (
        <Notice state="stop" live="alert">
          {DELETE.failed} {failure}
        </Notice>
      )}
      <SecondaryButton onPress={() => go('book')}>{BOOK.back}</SecondaryButton>
    </Screen>
  )
}

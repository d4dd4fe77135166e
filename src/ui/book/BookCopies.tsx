/** The copies that deleted stations left on this phone. */
import { useEffect, useMemo, useState } from 'preact/hooks'
import { fieldBook } from '../../state/book.ts'
import { fileName, type Handed, handOn, parcelOf } from '../../state/export.ts'
import { AsCodes } from '../kit/AsCodes.tsx'
import { ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { HelpLine } from '../kit/HelpLine.tsx'
import { HANDED } from '../kit/handedwords.ts'
import { Notice } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { Name, Sentence, Text } from '../kit/numbers.tsx'
import { failureWords } from '../kit/phrases.ts'
import { Screen } from '../kit/Screen.tsx'
import { BOOK, COPIES } from './words.ts'

interface Copy {
  key?: number
  name: string
  madeMs: number
  text: string
}

export function BookCopies() {
  const [copies, setCopies] = useState<readonly Copy[] | null>(null)
  const [failure, setFailure] = useState<string | null>(null)
  useEffect(() => {
    void fieldBook.keptCopies().then(kept => {
      if (kept.kind === 'done') setCopies([...kept.value].reverse())
      else setFailure(failureWords(kept))
    })
  }, [])
  return (
    <Screen title={COPIES.title} present="book" onGo={id => go(id)}>
      {failure && <Notice state="stop">{failure}</Notice>}
      {copies?.length === 0 && <Sentence>{COPIES.none}</Sentence>}
      {copies?.map(copy => (
        <CopyShown key={copy.key} copy={copy} />
      ))}
      <HelpLine>{COPIES.help}</HelpLine>
      <SecondaryButton onPress={() => go('book')}>{BOOK.back}</SecondaryButton>
    </Screen>
  )
}

function CopyShown({ copy }: { copy: Copy }) {
  const [said, setSaid] = useState<Handed | null>(null)
  const parcel = useMemo(() => parcelOf(fileName(copy.name, 'fieldbook', copy.madeMs), copy.text), [copy])
  const way = parcel.share ? 'share' : parcel.download ? 'download' : 'copy'
  return (
    <section class="book-section">
      <h2>
        <Name>{copy.name}</Name>
      </h2>
      <Text quiet>{COPIES.made(copy.madeMs)}</Text>
      <ButtonRow>
        <SecondaryButton onPress={() => go('book', 'import', String(copy.key))}>{COPIES.restore}</SecondaryButton>
        <SecondaryButton onPress={() => void handOn(way, parcel).then(({ outcome }) => setSaid(outcome))}>
          {COPIES.export}
        </SecondaryButton>
        <AsCodes name={parcel.file.name} text={parcel.text} />
      </ButtonRow>
      {said && <p role="status">{HANDED[said]}</p>}
    </section>
  )
}

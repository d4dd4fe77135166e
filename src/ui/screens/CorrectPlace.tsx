/** The place "Correct": which of its screens the address means. */
import { fieldBook } from '../../state/book.ts'
import { go } from '../navigation.ts'
import { Action } from '../parts/buttons.tsx'
import { Sentence } from '../parts/numbers.tsx'
import { Screen } from '../parts/Screen.tsx'
import { UtcNow } from '../parts/UtcNow.tsx'
import { CORRECT } from '../words/correct.ts'
import { CorrectFeed } from './CorrectFeed.tsx'
import { CorrectFeedMoved } from './CorrectFeedMoved.tsx'
import { CorrectLeft } from './CorrectLeft.tsx'
import { CorrectNext } from './CorrectNext.tsx'
import { CorrectSky } from './CorrectSky.tsx'
import { CorrectSoftware } from './CorrectSoftware.tsx'
import { CorrectSolution } from './CorrectSolution.tsx'
import { CorrectSuspects } from './CorrectSuspects.tsx'
import { CorrectTable } from './CorrectTable.tsx'
import { CorrectUse } from './CorrectUse.tsx'
import { LookAround } from './LookAround.tsx'
import './correct.css'

export function CorrectPlace({ parts }: { parts: readonly string[] }) {
  const station = fieldBook.station.value
  const [what, which] = parts
  if (station === null) {
    return (
      <Screen
        title={CORRECT.title}
        utc={<UtcNow />}
        present="correct"
        onGo={id => go(id)}
        action={<Action onPress={() => go('book', 'new')}>{CORRECT.toBook}</Action>}
      >
        <Sentence>{CORRECT.noStation}</Sentence>
        <LookAround />
      </Screen>
    )
  }
  switch (what) {
    case 'left':
      return which === undefined ? (
        <CorrectLeft station={station} />
      ) : (
        <CorrectUse key={which} station={station} id={which} />
      )
    case 'suspects':
      return <CorrectSuspects station={station} />
    case 'sky':
      return <CorrectSky station={station} />
    case 'next':
      return <CorrectNext station={station} />
    case 'feed':
      return which === undefined ? (
        <CorrectFeed station={station} />
      ) : (
        <CorrectFeedMoved key={`${station.id}/${which}`} station={station} id={which} />
      )
    case 'software':
      return which === 'lower' || which === 'upper' ? (
        <CorrectTable station={station} axis={which} />
      ) : (
        <CorrectSoftware station={station} />
      )
    default:
      return <CorrectSolution station={station} />
  }
}

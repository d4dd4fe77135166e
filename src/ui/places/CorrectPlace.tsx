/** The place "Correct": which of its screens the address means. */
import { isOffsetFed } from '../../core/records/guesses.ts'
import { fieldBook } from '../../state/book.ts'
import { CarryBudget } from '../carry/CarryBudget.tsx'
import { CarryCheck } from '../carry/CarryCheck.tsx'
import { CarryHome } from '../carry/CarryHome.tsx'
import { CarryPageScreen } from '../carry/CarryPageScreen.tsx'
import { CarryTable } from '../carry/CarryTable.tsx'
import { CorrectAhead } from '../correct/CorrectAhead.tsx'
import { CorrectBoltEdit } from '../correct/CorrectBoltEdit.tsx'
import { CorrectBolts } from '../correct/CorrectBolts.tsx'
import { CorrectKnown } from '../correct/CorrectKnown.tsx'
import { CorrectLeft } from '../correct/CorrectLeft.tsx'
import { CorrectNext } from '../correct/CorrectNext.tsx'
import { CorrectRecipe } from '../correct/CorrectRecipe.tsx'
import { CorrectReport } from '../correct/CorrectReport.tsx'
import { CorrectSky } from '../correct/CorrectSky.tsx'
import { CorrectSolution } from '../correct/CorrectSolution.tsx'
import { CorrectSuspects } from '../correct/CorrectSuspects.tsx'
import { CorrectUse } from '../correct/CorrectUse.tsx'
import { CORRECT } from '../correct/words.ts'
import { CorrectFeed } from '../feed/CorrectFeed.tsx'
import { CorrectFeedMoved } from '../feed/CorrectFeedMoved.tsx'
import { Action } from '../kit/buttons.tsx'
import { LookAround } from '../kit/LookAround.tsx'
import { go } from '../kit/navigation.ts'
import { Sentence } from '../kit/numbers.tsx'
import { Screen } from '../kit/Screen.tsx'
import { UtcNow } from '../kit/UtcNow.tsx'
import { WAYS } from '../kit/ways.ts'
import { CorrectProgram } from '../program/CorrectProgram.tsx'
import { CorrectMoved } from '../storm/CorrectMoved.tsx'
import { OffsetFed } from './OffsetFed.tsx'
import '../carry/carry.css'
import '../correct/correct.css'
import '../correct/report.css'

export function CorrectPlace({ parts }: { parts: readonly string[] }) {
  const station = fieldBook.station.value
  const [what, which, one] = parts
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
    case 'bolts':
      return which === 'edit' && one !== undefined ? (
        <CorrectBoltEdit key={`${station.id}/${one}`} station={station} id={one} />
      ) : (
        <CorrectBolts key={station.id} station={station} />
      )
    case 'suspects':
      return <CorrectSuspects station={station} />
    case 'sky':
      return <CorrectSky station={station} />
    case 'known':
      return <CorrectKnown station={station} />
    case 'next':
      return <CorrectNext station={station} />
    case 'moved':
      return <CorrectMoved station={station} />
    case 'ahead':
      return <CorrectAhead station={station} />
    case 'feed':
      if (isOffsetFed(station)) return <OffsetFed title={WAYS.feed} present="correct" why="feed" />
      return which === undefined ? (
        <CorrectFeed station={station} />
      ) : (
        <CorrectFeedMoved key={`${station.id}/${which}`} station={station} id={which} />
      )
    case 'report':
      return <CorrectReport key={station.id} station={station} />
    case 'program':
      return <CorrectProgram key={station.id} station={station} />
    case 'software':
      switch (which) {
        case 'page':
          return <CarryPageScreen key={station.id} station={station} />
        case 'lower':
        case 'upper':
          return <CarryTable station={station} axis={which} />
        case 'budget':
          return <CarryBudget station={station} />
        case 'check':
          return <CarryCheck key={station.id} station={station} />
        case 'recipe':
          return <CorrectRecipe key={station.id} station={station} />
        default:
          return <CarryHome station={station} />
      }
    default:
      return <CorrectSolution station={station} />
  }
}

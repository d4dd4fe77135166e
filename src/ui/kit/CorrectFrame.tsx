/** The frame of every screen of "Correct": the demo's mark, what went wrong, and nothing else before there is a solution. */
import type { ComponentChildren } from 'preact'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { answer } from '../../state/answer.ts'
import { ButtonRow, SecondaryButton } from './buttons.tsx'
import { DemoMark } from './DemoMark.tsx'
import { go } from './navigation.ts'
import { Sentence, Text } from './numbers.tsx'
import { UnsavedNotice } from './SavedLine.tsx'
import { Screen } from './Screen.tsx'
import { SolveTrouble } from './SolveTrouble.tsx'
import { UtcNow } from './UtcNow.tsx'

interface Props {
  station: StationRecord
  title: string
  children: ComponentChildren
  side?: ComponentChildren
  action?: ComponentChildren
  /** Another way back, beside the one to Correct. */
  otherBack?: ComponentChildren
  /** The first screen of the place has nothing to go back to. */
  first?: boolean
}

export function CorrectFrame({ station, title, children, side, action, otherBack, first = false }: Props) {
  const { solution, stale } = answer.value
  const back = !first && (
    <ButtonRow>
      {otherBack}
      <SecondaryButton onPress={() => go('correct')}>{SOLVING.back}</SecondaryButton>
    </ButtonRow>
  )
  return (
    <Screen
      title={title}
      utc={<UtcNow />}
      present="correct"
      onGo={id => go(id)}
      {...(side
        ? {
            side: (
              <>
                {side}
                {back}
              </>
            ),
          }
        : {})}
      {...(action ? { action } : {})}
    >
      <DemoMark station={station} />
      <UnsavedNotice />
      <SolveTrouble />
      {solution === null ? stale && <Sentence>{SOLVING.computing}</Sentence> : children}
      {solution !== null && stale && <Text quiet>{SOLVING.stale}</Text>}
      {!side && back}
    </Screen>
  )
}

export const SOLVING = {
  back: 'Back to Correct',
  computing: 'Computing…',
  stale: 'Computing again with your latest records…',
} as const

/** The place "Correct". */
import { go } from '../navigation.ts'
import { Screen } from '../parts/Screen.tsx'
import { UtcNow } from '../parts/UtcNow.tsx'

export function CorrectPlace(_: { parts: readonly string[] }) {
  return (
    <Screen title="Correct" utc={<UtcNow />} present="correct" onGo={id => go(id)}>
      {null}
    </Screen>
  )
}

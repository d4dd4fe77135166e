/** The place "Level". */
import { go } from '../navigation.ts'
import { Screen } from '../parts/Screen.tsx'
import { UtcNow } from '../parts/UtcNow.tsx'

export function LevelPlace(_: { parts: readonly string[] }) {
  return (
    <Screen title="Level" utc={<UtcNow />} present="level" onGo={id => go(id)}>
      {null}
    </Screen>
  )
}

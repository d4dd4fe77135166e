/** The place "Sight". */
import { go } from '../navigation.ts'
import { Screen } from '../parts/Screen.tsx'
import { UtcNow } from '../parts/UtcNow.tsx'

export function SightPlace(_: { parts: readonly string[] }) {
  return (
    <Screen title="Sight" utc={<UtcNow />} present="sight" onGo={id => go(id)}>
      {null}
    </Screen>
  )
}

/** The place "Book". */
import { go } from '../navigation.ts'
import { Screen } from '../parts/Screen.tsx'
import { UtcNow } from '../parts/UtcNow.tsx'

export function BookPlace(_: { parts: readonly string[] }) {
  return (
    <Screen title="Book" utc={<UtcNow />} present="book" onGo={id => go(id)}>
      {null}
    </Screen>
  )
}

/** Retries what could not be written; if that fails too, shows the details that somebody who is asked for help needs. */
import { signal } from '@preact/signals'
import { fieldBook } from '../../state/book.ts'
import { SecondaryButton } from './buttons.tsx'
import { go } from './navigation.ts'
import { Text } from './numbers.tsx'
import { FAILURE } from './storewords.ts'

interface Failed {
  kind: string
  message?: string
}

/** The last failed try. It outlives the notices, which disappear during a try. */
const lastTry = signal<{ failure: Failed; tries: number } | null>(null)

export const noteTry = (failure: Failed | null): void => {
  lastTry.value = failure && { failure, tries: 1 + (lastTry.peek()?.tries ?? 0) }
}

export function FailureDetails() {
  const waiting = fieldBook.unsaved.value.length
  if (lastTry.value === null || waiting === 0) return null
  const { failure, tries } = lastTry.value
  return (
    <div role="status">
      <Text>{FAILURE.again(tries, waiting)}</Text>
      <Text quiet>{FAILURE.details(failure.kind, failure.message)}</Text>
    </div>
  )
}

export function TryAgain({ onKept }: { onKept?: () => void }) {
  const again = async () => {
    const outcome = await fieldBook.retryUnsaved()
    noteTry(outcome.kind === 'done' ? null : outcome)
    if (outcome.kind === 'done') onKept?.()
  }
  const why = fieldBook.unsaved.value[0]?.failure.kind
  return (
    <>
      <SecondaryButton onPress={() => void again()}>{FAILURE.retry}</SecondaryButton>
      {why === 'newer-tab' ? (
        <SecondaryButton onPress={() => fieldBook.reloadPage()}>{FAILURE.reload}</SecondaryButton>
      ) : (
        <SecondaryButton onPress={() => go('book', 'export')}>{FAILURE.exportIt}</SecondaryButton>
      )}
    </>
  )
}

/** The stores that a test opens, closed again after it; and what a store answers where it must. */
import { afterEach } from 'vitest'
import type { Kept } from '../../src/store/database.ts'
import type { Store } from '../../src/store/store.ts'

/** Asked for once in a file of tests. What is `add`ed is closed after each test, or sooner by `closeAll`. */
export function openedStores() {
  const opened: Store[] = []
  const closeAll = () => {
    for (const store of opened.splice(0)) store.close()
  }
  afterEach(closeAll)
  const add = <T extends Store>(store: T): T => {
    opened.push(store)
    return store
  }
  return { add, closeAll }
}

/** @throws Error  the phone refused */
export function done<T>(answer: Kept<T>): T {
  if (answer.kind !== 'done') throw new Error(`expected done, got ${answer.kind}: ${answer.message}`)
  return answer.value
}

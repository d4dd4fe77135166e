/** What follows in the book from adjusters that were turned as advised: a change, and the expected values of what it restarts. */
import { entryOf } from '../mount/parameters.ts'
import { round6 } from '../records/digits.ts'
import type { PriorRecord } from '../records/fieldbook.ts'
import { changeOf } from './advice.ts'
import type { Bolt } from './bolts.ts'

/** @param turned  those that were turned, and no others */
export function changeOfBolts(turned: readonly Bolt[], feed: string): { what: string[]; expect: PriorRecord[] } {
  const what = new Set<string>()
  const expect: PriorRecord[] = []
  for (const { off, does } of turned) {
    if (!off || does.kind !== 'turn') continue
    for (const name of does.move ? changeOf(does.move, off.feed ?? feed) : entryOf(off.id).renewedBy.slice(0, 1))
      what.add(name)
    expect.push({
      id: off.id,
      ...(off.feed && { feed: off.feed }),
      value: round6(does.left.value),
      sigma: round6(does.left.sigma),
    })
  }
  return { what: [...what], expect }
}

/** Two tabs write at once, partly the same record. Each must have all of its own, and show all of the other's. */
import { type Bench, onBench } from './bench.ts'

export interface TabFigures {
  recordsPerTab: number
  there: number
  expected: number
  /** Revisions of the record that both wrote: 1, 2, 3, … without a gap. */
  sharedRevisions: number
  sharedExpected: number
  sharedWithoutGap: boolean
  /** What each tab shows at the end, by the other's broadcasts alone. */
  shown: [number, number]
  seconds: number
}

export const twoTabs = (recordsPerTab: number): Promise<TabFigures> => onBench(bench => written(bench, recordsPerTab))

async function written({ victim, url }: Bench, recordsPerTab: number): Promise<TabFigures> {
  const began = performance.now()
  const pages = [await victim.open(url, 'two-tabs'), await victim.open(url, 'two-tabs')] as const
  for (const page of pages) await page.evaluate(() => harness.watchOthers())
  await Promise.all(
    pages.map((page, tab) => page.evaluate(([t, n]) => harness.writeTab(t, n), [`t${tab}`, recordsPerTab] as const)),
  )
  // The last to write hears nothing more: one more record from each.
  await pages[0].evaluate(() => harness.append('end-0', 'x'))
  await pages[1].evaluate(() => harness.append('end-1', 'x'))
  await pages[0].evaluate(() => harness.append('end-2', 'x'))
  await pages[1].evaluate(() => harness.append('end-2', 'x'))
  const expected = 2 * recordsPerTab + 1 + 3
  for (const page of pages)
    await page.waitForFunction(n => harness.seen().shown >= n, expected, { timeout: 30_000 }).catch(() => {})
  const all = await pages[0].evaluate(() => harness.load())
  const shared = (await pages[1].evaluate(() => harness.history('shared'))).map(r => r.revision)
  const shown = await Promise.all(pages.map(page => page.evaluate(() => harness.seen().shown)))
  for (const page of pages) await page.close()
  return {
    recordsPerTab,
    there: all.length,
    expected,
    sharedRevisions: shared.length,
    sharedExpected: 2 * Math.ceil(recordsPerTab / 10),
    sharedWithoutGap: shared.every((revision, index) => revision === index + 1),
    shown: shown as [number, number],
    seconds: Math.round((performance.now() - began) / 100) / 10,
  }
}

/** What is wrong with the figures, or null. */
export function tabsWrong(f: TabFigures): string | null {
  if (f.there !== f.expected) return `${f.there} records instead of ${f.expected}`
  if (f.sharedRevisions !== f.sharedExpected || !f.sharedWithoutGap) return 'revisions of the shared record'
  if (f.shown.some(n => n !== f.expected)) return `shown ${f.shown} instead of ${f.expected}`
  return null
}

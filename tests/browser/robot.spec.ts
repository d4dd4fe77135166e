/**
 * A robot at the person's place: from the first screen, by what is seen and pressed alone, to "within what you allow"; and the truth
 * confirms it. By `npm run face`; all kinds and twelve numbers: `npm run studies` (`robot`).
 */
import type { MountKind } from '../../src/core/records/fieldbook.ts'
import { expect, test } from './rig.ts'
import { robotRun } from './robotrun.ts'

const RUNS: readonly [MountKind, number][] = [
  ['az-over-el', 3],
  ['el-over-az', 7],
  ['ha-dec', 8],
]

for (const [kind, seed] of RUNS)
  test(`a robot rehearses on ${kind}, dish ${seed}, until the app says "within"; the truth confirms it`, async ({
    page,
  }) => {
    // Ten seconds where nothing else runs; there are a hundred round trips in it.
    test.slow()
    await page.goto('./')
    const run = await robotRun(page, kind, seed)
    expect(run).toMatchObject({ within: true, why: '', holds: true, trulyWithin: true })
    expect(run.ratio).toBeLessThanOrEqual(1.3)
    expect(run.sightings).toBeGreaterThanOrEqual(3)
  })

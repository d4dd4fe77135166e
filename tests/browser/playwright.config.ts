/** A phone of 390 × 844 points. Started by run.mjs, which knows the browser and the address. */
import { defineConfig } from '@playwright/test'
import { CHROMIUM_ARGS } from './chromium.mjs'
import { HANDSET } from './handset.ts'
import { isWhole } from './rig.ts'

/**
 * A walk ends before a second compiler pays for itself: a station opened and solved took 2.45 s of processor time instead of 3.0.
 * With more of its freed memory kept, a fourteenth less again. What is measured in milliseconds goes by `npm run face`, without them.
 */
const SHORT_LIVED = ['--js-flags=--no-turbofan', '--enable-features=PartitionAllocLargeEmptySlotSpanRing']

export default defineConfig({
  testDir: '.',
  testMatch: '*.spec.ts',
  // `npm run face` takes them: minutes by themselves, milliseconds that are measured, the journey on other mounts, a share of
  // `npm run studies`.
  testIgnore: isWhole
    ? []
    : [
        'fourkinds.spec.ts',
        'hosts.spec.ts',
        'rehearsemonth.spec.ts',
        'robot.spec.ts',
        'smooth.spec.ts',
        'walkthrough.spec.ts',
      ],
  outputDir: '../../test-results',
  timeout: 180_000, // several walks on the same screens are one
  expect: { timeout: 20_000 },
  // On two cores: while a walk waits for a timer, a store or an answer two others are at work. An eighth less than with two.
  workers: 3,
  fullyParallel: true,
  retries: 0,
  forbidOnly: true,
  reporter: [['list'], ['json']],
  use: {
    baseURL: process.env.BASE_URL ?? 'http://localhost:4173/',
    ...HANDSET,
    trace: 'off',
    launchOptions: {
      ...(process.env.CHROMIUM && { executablePath: process.env.CHROMIUM }),
      args: [...CHROMIUM_ARGS, ...(isWhole ? [] : SHORT_LIVED)],
    },
  },
})

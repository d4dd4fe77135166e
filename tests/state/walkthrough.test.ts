/**
 * The walk-through of a first rehearsal, followed to its end by somebody who presses what it says (tests/helpers/walked.ts): on the dish that
 * a first rehearsal proposes, with its three faults, it ends at "within tolerance", and the truth confirms it; the same in winter by
 * `npm run draws`. Other dishes and mounts: `npm run studies` (walkthrough).
 */
import { expect, it } from 'vitest'
import { FIRST_SEED } from '../../src/core/rehearse/setup.ts'
import { worldOf } from '../../src/core/rehearse/world.ts'
import { drawn } from '../helpers/share.ts'
import { walked } from '../helpers/walked.ts'

const SETUP = {
  seed: FIRST_SEED,
  kind: 'az-over-el',
  difficulty: 'beginner',
  startUtc: '2026-05-01T10:00:00Z',
} as const

it('ends within tolerance on the first dish, and the truth confirms it', async () => {
  const { faults } = worldOf(SETUP)
  expect(Object.keys(faults.truths[0]!.truth)).toHaveLength(3)
  const { asked, last, outcome } = await walked(SETUP)
  // Every step of the alignment was opened in its order, and none but the sky's own asked again and again.
  const steps = asked.map(a => a.step).filter((s, k, all) => s !== all[k - 1])
  expect(steps.slice(0, 4)).toEqual(['site-clock', 'axes', 'readouts', 'feed'])
  expect(asked.filter(a => a.ask !== 'wait' && a.ask !== 'find' && a.ask !== 'peak').length).toBeLessThan(12)
  expect(last.ask).toEqual({ do: 'truth' })
  expect(last.steps.every(s => s.isTaken)).toBe(true)
  expect(outcome.claimed.within).toBe(true)
  expect(outcome.holds).toBe(true)
  expect(outcome.wrong).toEqual([])
}, 240_000)

// At the solstice the Sun stays beyond the end of this mount's axis, or too near it for a peak.
drawn(
  'ends within tolerance where the winter Sun is never reached: the Moon is found in its place',
  async () => {
    const { asked, last, outcome, station } = await walked(
      { seed: 8, kind: 'x-y', difficulty: 'beginner', startUtc: '2026-12-21T10:00:00Z' },
      60,
    )
    expect(last.ask).toEqual({ do: 'truth' })
    expect([outcome.claimed.within, outcome.holds]).toEqual([true, true])
    expect(station.sightings.filter(s => s.method === 'signal-peak').map(s => s.target.type)).not.toContain('sun')
    expect(asked.length).toBeLessThan(45)
  },
  240_000,
)

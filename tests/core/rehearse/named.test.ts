/** Whether the app names a hard fault: by what stands first in what it says, by what stands beside, on the right axis. */
import { describe, expect, it } from 'vitest'
import type { HasMovedJson } from '../../../src/core/plan/hasmovedjson.ts'
import type { Solution, Suspect, SuspectKind } from '../../../src/core/records/solution.ts'
import { type AppSaid, namingOf } from '../../../src/core/rehearse/named.ts'
import { countedPit } from '../../helpers/stations.ts'

const suspect = (kind: SuspectKind, axis?: 'lower' | 'upper', rivals: SuspectKind[] = []): Suspect => ({
  kind,
  text: '',
  settle: '',
  deltaChi2: 30,
  rivals: rivals.map(k => ({ kind: k, text: '', deltaChi2: 29 })),
  ...(axis && { axis }),
})
const said = (suspects: Suspect[], more: { moved?: unknown; parameters?: unknown[]; references?: unknown[] } = {}) =>
  ({
    station: countedPit({ references: (more.references ?? []) as never }),
    solution: { suspects, parameters: more.parameters ?? [] } as unknown as Solution,
    moved: (more.moved ?? null) as HasMovedJson | null,
  }) satisfies AppSaid
const moved = (...kinds: string[][]) => ({
  verdict: 'moved',
  check: { explanations: kinds.map(k => ({ kinds: k })) },
})

describe('a hard fault', () => {
  it('is named where its suspect stands, beside another where that is a rival, and on its own axis only', () => {
    const slip = suspect('counter-step', 'upper')
    expect(namingOf('slip', said([slip]), { axis: 'upper' })).toBe('named')
    expect(namingOf('slip', said([slip]), { axis: 'lower' })).toBe('not')
    expect(namingOf('clock', said([suspect('two-halves', undefined, ['clock-or-longitude'])]), {})).toBe('rival')
    expect(namingOf('clock', said([slip]), {})).toBe('not')
    expect(namingOf('backlash', said([suspect('lost-motion', 'lower')]), { axis: 'lower' })).toBe('named')
  })

  it('is named by what is said to have moved: first, or among others', () => {
    expect(namingOf('storm', said([], { moved: moved(['mount'], ['dish']) }), {})).toBe('named')
    expect(namingOf('storm', said([], { moved: moved(['upper-zero'], ['mount']) }), {})).toBe('rival')
    expect(namingOf('slip', said([], { moved: moved(['upper-zero']) }), { axis: 'upper' })).toBe('named')
    expect(namingOf('storm', said([], { moved: { ...moved(['mount']), verdict: 'holds' } }), {})).toBe('not')
  })

  it('is named by a mark that differs, and by a number beyond three of its σ', () => {
    const mark = (id: string, day: number, reading: number) => ({
      id,
      utc: `2026-05-0${day}T10:00:00Z`,
      axis: 'upper',
      mark: 'line',
      reading,
    })
    const agree = [mark('a', 1, 400), mark('b', 2, 401)]
    expect(namingOf('slip', said([], { references: agree }), { axis: 'upper' })).toBe('not')
    expect(namingOf('slip', said([], { references: [...agree, mark('c', 3, 360)] }), { axis: 'upper' })).toBe('named')
    const feed = (value: number) => said([], { parameters: [{ id: 'feedRight', feed: 'a', value, sigma: 5 }] })
    expect(namingOf('feed', feed(24), { feed: 'a' })).toBe('named')
    expect(namingOf('feed', feed(12), { feed: 'a' })).toBe('not')
    const play = said([], { parameters: [{ id: 'lowerPlay', value: -0.9, sigma: 0.1 }] })
    expect([namingOf('backlash', play, { axis: 'lower' }), namingOf('backlash', play, { axis: 'upper' })]).toEqual([
      'named',
      'not',
    ])
  })
})

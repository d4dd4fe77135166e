import { describe, expect, it } from 'vitest'
import type { WorthJson } from '../../../src/core/plan/worthjson.ts'
import { settleFirst, worthBrings, worthHead, worthWay, worthWhere } from '../../../src/ui/kit/worthwords.ts'
import { plain } from '../../helpers/plain.ts'
import { weir } from '../../helpers/stations.ts'

const { mount } = weir('az-over-el', 50)
const AT = Date.UTC(2026, 10, 26, 12, 0)
const level = { kind: 'level', what: 'lower-axis-elevation', lower: 30, upper: 0, sigmaDeg: 0.2 } as const
const sun = (method: 'signal-peak' | 'shadow' | 'drift-scan') =>
  ({
    kind: 'sighting',
    target: 'sun',
    method,
    utc: new Date(AT).toISOString(),
    azDeg: 180,
    elDeg: 20,
    lower: 20,
    upper: 0,
    sigmaDeg: 0.5,
  }) as const
const worth = (beforeDb: number, afterDb: number, more: Partial<WorthJson> = {}): WorthJson => ({
  step: level,
  minutes: 5,
  beforeDeg: 4.8,
  afterDeg: 1.2,
  beforeDb,
  afterDb,
  ...more,
})

describe('what is worth doing next, in words', () => {
  it('names the thing to do and leads to the screen that does it', () => {
    expect(worthHead(mount, level)).toBe('Measure the tilt axis with a level')
    expect(worthWay(level)).toEqual(['mount', 'measure', 'lower-axis-elevation'])
    expect(worthHead(mount, sun('shadow'))).toBe("Sun by feed's shadow")
    expect(worthWay(sun('shadow'))).toEqual(['sight', 'noon'])
    // A Sun peak that a check after a storm asks for is taken from within that check.
    expect(worthWay(sun('signal-peak'), 'storm-1')).toEqual(['sight', 'storm', 'more', 'storm-1'])
    expect(worthWay(sun('shadow'), 'storm-1')).toEqual(['sight', 'noon'])
    expect(worthWay(sun('drift-scan'))).toEqual(['sight', 'drift', 'new'])
    expect(worthWay(sun('signal-peak'))).toEqual(['sight'])
    expect(worthWay({ kind: 'clock' })).toEqual(['mount', 'clock'])
    expect(worthHead(mount, { kind: 'mark', axis: 'upper', mark: 'inner stop', reading: 3, sigmaDeg: 0.1 })).toContain(
      'inner stop',
    )
  })

  it('says when where it matters, and "now" where it is', () => {
    expect(worthWhere(mount, level, AT)).toBeNull()
    expect(plain(worthWhere(mount, sun('shadow'), AT + 60_000))).toBe('now, low in the south')
    expect(plain(worthWhere(mount, sun('shadow'), AT - 7_200_000))).toMatch(/^today 12:00 UTC/)
    expect(plain(worthWhere(mount, sun('shadow'), AT - 86_400_000))).toMatch(/^tomorrow 12:00 UTC/)
    expect(plain(worthWhere(mount, sun('shadow'), AT - 172_800_000))).toMatch(/^26 Nov 2026 12:00 UTC/)
  })

  it('gives the loss before and after, and no dB beyond what a parabola can say', () => {
    expect(plain(worthBrings(worth(2.5, 0.4)))).toBe('From 2.5 dB to 0.4 dB on your own echoes. About 5 min.')
    expect(plain(worthBrings(worth(19, 2.5)))).toBe(
      'Then the beam finds the Moon: less than 2.5 dB lost on your own echoes. About 5 min.',
    )
    expect(plain(worthBrings(worth(76_000, 283)))).toBe('Brings the error from 4.8° to 1.2°. About 5 min.')
    // A heading that nobody knows: no pointing error is 314°.
    expect(plain(worthBrings({ ...worth(76_000, 283), beforeDeg: 314, afterDeg: 107 }))).toBe(
      'As entered the beam may point anywhere. This shows for the first time where. About 5 min.',
    )
    expect(plain(worthBrings({ ...worth(76_000, 283), beforeDeg: 314, afterDeg: 4.8 }))).toBe(
      'As entered the beam may point anywhere. This brings the error to 4.8°. About 5 min.',
    )
    expect(plain(worthBrings(worth(0.9, 0.5, { step: { kind: 'clock' } })))).toMatch(/may cost up to 0\.4 dB more/)
  })

  it('sends to what looks wrong first, and to what was set aside; a mere loss is no reason', () => {
    expect(settleFirst([{ kind: 'suspect', suspect: 'counter-step' }, { kind: 'loss' }])).toEqual({
      head: 'Settle what looks wrong: A counter slipped',
      way: ['correct', 'suspects'],
    })
    expect(settleFirst([{ kind: 'most-aside', outliers: 4, of: 8 }])!.way).toEqual(['correct', 'left'])
    expect(settleFirst([{ kind: 'loss' }])).toBeNull()
    expect(settleFirst([])).toBeNull()
  })
})

import { describe, expect, it } from 'vitest'
import type { BiasUse } from '../../../src/core/level/instrumentbias.ts'
import { type Reversal, reversalOnCircle } from '../../../src/core/level/reversal.ts'
import { EDGES, endsOf } from '../../../src/core/level/upvector.ts'
import { MOUNT_KINDS } from '../../../src/core/mount/names.ts'
import type { MountKind, MountRecord } from '../../../src/core/records/fieldbook.ts'
import { levelKinds } from '../../../src/core/records/levelkinds.ts'
import { radFromDeg } from '../../../src/core/units.ts'
import type { AttitudeState, Live } from '../../../src/state/level.ts'
import { attitudeWords } from '../../../src/ui/kit/sensorwords.ts'
import {
  biasWords,
  endSays,
  endToward,
  mastMatters,
  stillWords,
  turnVerdict,
} from '../../../src/ui/level/phonewords.ts'
import { plain } from '../../helpers/plain.ts'
import { smallBook } from '../../helpers/smallbook.ts'
import { someOf } from '../../helpers/some.ts'

const mountOf = (kind: MountKind): MountRecord => ({ ...smallBook().stations[0].mount, kind }) as MountRecord

describe('attitudeWords', () => {
  const SILENT: AttitudeState[] = [
    'starting',
    'not-asked',
    'denied',
    'absent',
    'null-events',
    'hidden',
    'stale',
    'disagree',
    'sign-unknown',
  ]
  it('are different for every way of hearing nothing, and none where all is well', () => {
    const said = SILENT.map(state => attitudeWords(state)!.text)
    expect(new Set(said).size).toBe(SILENT.length)
    expect(attitudeWords('delivering')).toBeNull()
    expect(attitudeWords('silent')).toBeNull()
  })
  it('say what to do on a phone that has no setting for sensors: open the page again and allow', () => {
    expect(attitudeWords('denied')!.text).toMatch(/settings.*as on an iPhone, close Moonplumb, open it again/)
  })
  it('leave the inclinometer where no sensor will come', () => {
    for (const state of ['denied', 'absent', 'null-events'] as const)
      expect(attitudeWords(state)!.text).toMatch(/[Tt]ype what an inclinometer shows/)
  })
})

describe('endSays', () => {
  it('says which end, and which way; what rounds to nothing is level', () => {
    expect(endSays('top', 3.2)).toBe('Top end up')
    expect(endSays('left', -3.2)).toBe('Left edge down')
    expect(endSays('back', 12)).toBe('Back faces up')
    expect(endSays('screen', 0.04)).toBe('Screen faces level')
    expect(endSays('top', -0.04)).toBe('Top end level')
  })
})

describe('endToward', () => {
  it('says for every mount, level and end where that end goes', () => {
    for (const kind of MOUNT_KINDS)
      for (const what of someOf(levelKinds(kind)))
        for (const end of EDGES.flatMap(endsOf)) {
          const says = endToward(mountOf(kind), what, end)
          expect(says).toMatch(/\.$/)
          expect(says).not.toMatch(/undefined/)
        }
    expect(endToward(mountOf('az-over-el'), 'lower-axis-elevation', 'bottom')).toBe(
      'Along the axis, bottom end toward the right-hand end.',
    )
    expect(endToward(mountOf('x-y'), 'lower-axis-elevation', 'top')).toContain('the forward end')
  })
})

describe('biasWords', () => {
  const bias = radFromDeg(0.4)
  it('say whether the error is taken off, and if not, why and what to do', () => {
    const uses: [BiasUse, RegExp][] = [
      [{ kind: 'none' }, /no reversal has been made/],
      [{ kind: 'valid', bias, sigma: 0.001, foundAt: 0, ageMs: 7_200_000 }, /0\.40°, found 2 h ago, is taken off/],
      [{ kind: 'old', bias, ageMs: 2 * 86_400_000 }, /2 d ago\. That is more than a day, so it is not taken off/],
      [{ kind: 'old', bias, ageMs: -1 }, /after this reading/],
      [{ kind: 'clamped-anew', bias, ageMs: 0 }, /another clamping.*not taken off/],
      [{ kind: 'lies-otherwise', bias, ageMs: 0 }, /another side/],
      [{ kind: 'other-phone' }, /another phone/],
    ]
    for (const [use, words] of uses) expect(plain(biasWords(use))).toMatch(words)
  })
})

describe('turnVerdict', () => {
  const of = (first: number, second: number): Reversal => reversalOnCircle(radFromDeg(first), radFromDeg(second))
  const says = (r: Reversal) => turnVerdict(mountOf('az-over-el'), r, 0.11)
  it('tells the error with its ±, and that the numbers prove the turn', () => {
    const v = says(of(12.4, -168.4))
    expect(v.good).toBe(true)
    expect(plain(v.text)).toBe(
      'It shows 0.40 ± 0.11° too much at this slope of 12.0°. The numbers show that it was turned the right way.',
    )
    expect(plain(says(of(12.0, -167.6)).text)).toContain('0.20 ± 0.11° too little')
  })
  it('claims no proof where there is none', () => {
    expect(says(of(1.2, -179.2)).text).toContain('cannot show which way it was turned')
  })
  it('does not praise a turn that it then doubts, nor doubt one that it has praised', () => {
    expect(says(of(1.2, -179.2)).word).toBe('The two readings fit')
    expect(says(of(12.4, -168.4)).word).toBe('Turned the right way')
    expect(says(of(12.4, -11.8)).word).toBe('Not turned the right way')
    for (let first = -90; first <= 90; first += 3)
      for (const second of [first + 180, -first, 180 - first]) {
        const { word, text } = says(of(first, second))
        expect(/right way/.test(word) && /cannot show/.test(text)).toBe(false)
      }
  })
  it('refuses each wrong turn by its name, with what to do', () => {
    expect(says(of(12.4, -11.8)).text).toMatch(/the face did not.*Turn it end over end/)
    expect(says(of(12.4, 12.3)).text).toMatch(/one position. Turn/)
    expect(says(of(30, 150)).text).toMatch(/face was turned over and the ends stayed/)
  })
})

describe('stillWords', () => {
  const live = (still: Live['still'], secondsLeft: number | null): Live =>
    ({ still, secondsLeft, attitude: {}, reading: null }) as unknown as Live
  it('count down, and ask for the turn first where it must be moved', () => {
    expect(stillWords(live({ kind: 'gathering' }, null), false)).toBe('Wait')
    expect(stillWords(live({ kind: 'moving' }, null), false)).toBe('Moving')
    expect(stillWords(live({ kind: 'still', forMs: 1000, mean: {} as never }, 2), false)).toBe('Still: 2')
    expect(stillWords(live({ kind: 'still', forMs: 1000, mean: {} as never }, 2), true)).toBe('Turn it, then let go')
  })
})

describe('mastMatters', () => {
  it('names the axes of the mount that matter more', () => {
    expect(mastMatters(mountOf('az-over-el'))).toMatch(/level of the tilt axis and the elevation of the swing axis/)
    expect(mastMatters(mountOf('ha-dec'))).toMatch(/polar axis/)
  })
})

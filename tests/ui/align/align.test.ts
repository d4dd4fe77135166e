/** The alignment's words, ways and pictures: of every step, on every kind of mount, in every state. Pure. */
import { describe, expect, it } from 'vitest'
import { ALIGNMENT_STEPS } from '../../../src/core/records/alignment.ts'
import type { StationRecord } from '../../../src/core/records/fieldbook.ts'
import { stepPicture } from '../../../src/ui/align/picture-geometry.ts'
import {
  alignmentValueText,
  insideSays,
  limitRows,
  needWords,
  stateSays,
  stateWord,
  stepLineSays,
  valueName,
} from '../../../src/ui/align/says.ts'
import { guessesOf, mainWay, otherWays } from '../../../src/ui/align/ways.ts'
import { howWords, PICTURE, pictureSays, whyWords } from '../../../src/ui/align/words.ts'
import { STEP_NAMES } from '../../../src/ui/kit/stepnames.ts'
import { isPlaceId } from '../../../src/ui/places/places.ts'
import { aligned, bare, NOW_MS } from '../../helpers/aligned.ts'
import { stepOf, told } from '../../helpers/aligntold.ts'
import { KINDS, utcOf } from '../../helpers/simulate.ts'
import { someOf } from '../../helpers/some.ts'

const HOUR = 3_600_000
const moved = (s: StationRecord, what: string[]): StationRecord => ({
  ...s,
  changes: [{ id: 'c', utc: utcOf(NOW_MS - HOUR), what }],
})
const stations = [
  ...KINDS.map(kind => bare(kind)),
  bare('x-y', { dish: { diameterM: 3, focalRatio: 0.6, fed: 'offset' } }),
  aligned('el-over-az'),
  aligned('az-over-el'),
  moved(aligned('az-over-el'), ['lower-axis']),
  moved(aligned('ha-dec'), ['all']),
]

describe('what is said of a step', () => {
  it('has words for every state, need, value and limit of every mount, and none of them broken', () => {
    const words = new Set<string>()
    for (const s of stations)
      for (const step of someOf(told(s).steps)) {
        const said = [
          stateWord(step),
          stateSays(s, step),
          stepLineSays(s, step),
          ...step.needs.map(n => needWords(s, n)),
          ...step.values.flatMap(v => [alignmentValueText(s, v), insideSays(s, v) ?? '']),
          ...limitRows(s, step).flatMap(r => [r.label, r.value]),
          STEP_NAMES[step.id],
          whyWords(s.mount, step.id),
          pictureSays(s.mount, step.id),
          ...howWords(s.mount, step.id),
        ]
        for (const text of said) expect(text, `${s.mount.kind} ${step.id}`).not.toMatch(/undefined|NaN|\[object|null/)
        words.add(stateWord(step))
      }
    for (const word of ['Not started', 'Done', 'Undone', 'Not for this mount', 'Not for this dish'])
      expect(words).toContain(word)
  })

  it('gives a value its σ and its side of the limit', () => {
    const s = aligned('az-over-el')
    const [tilt] = stepOf(told(s), 'axes').values
    expect(alignmentValueText(s, tilt!)).toBe('0.00\u00a0±\u00a00.05°')
    expect(insideSays(s, tilt!)).toMatch(/^inside 0\.2\d°$/)
    expect(insideSays(s, { ...tilt!, inside: 'cannot-tell', sigmaWanted: 0.04 })).toMatch(
      /^allowed 0\.2\d°; to judge that, measure to ±\u00a00\.04° or better$/,
    )
    expect(valueName(s.mount, tilt!)).toBe('Tilt axis, off by')
    expect(needWords(s, { what: 'finer', value: tilt!, n: 1 })).toBe('tilt axis measured more closely')
    // An error of half a circle is no figure.
    expect(alignmentValueText(s, { ...tilt!, value: 300 })).toBe('anywhere')
  })

  it('names the change that undid it, in plain words', () => {
    const s = moved(aligned('az-over-el'), ['lower-axis', 'upper-zero'])
    expect(stateSays(s, stepOf(told(s), 'axes'))).toMatch(
      /^Done 29\sApr\s2026, undone by the change of 30\sMay\s2026: the base was moved and the swing zero was altered\.$/,
    )
  })
})

describe('the ways from a step', () => {
  it('lead to a place of the app, with what is missing first', () => {
    for (const s of stations)
      for (const step of someOf(told(s).steps))
        for (const way of [mainWay(s, step, 'a'), ...otherWays(s, step)]) {
          expect(isPlaceId(way!.to[0]!), way!.to.join('/')).toBe(true)
          expect(way!.word.length).toBeGreaterThan(3)
        }
    const to = (s: StationRecord, id: (typeof ALIGNMENT_STEPS)[number]) =>
      mainWay(s, stepOf(told(s), id), 'a')!.to.join('/')
    expect(to(bare('az-over-el'), 'readouts')).toBe('book/edit/st/lower')
    expect(to(bare('az-over-el'), 'axes')).toBe('mount/measure/lower-axis-elevation')
    expect(to(bare('el-over-az'), 'axes')).toBe('mount/measure/upper-axis-elevation')
    expect(to(bare('x-y'), 'feed')).toBe('book/dish/rim/a')
    expect(to(bare('x-y'), 'solve')).toBe('align/sightings')
    expect(to(aligned('x-y'), 'solve')).toBe('correct')
  })

  it('a step shows the guesses that it would take away, and no others', () => {
    const s = bare('az-over-el')
    expect(guessesOf(s, 'readouts')).toEqual(['mount.lower.readout', 'mount.upper.readout'])
    expect(guessesOf(s, 'heading')).toEqual(['mount.headingDeg'])
    expect(guessesOf(s, 'bolts')).toEqual([])
  })
})

describe('the picture of a step', () => {
  it('stays inside its frame, on every mount; axes are drawn where the mount is', () => {
    for (const kind of KINDS)
      for (const isSouth of [false, true])
        for (const id of ALIGNMENT_STEPS) {
          const p = stepPicture(id, kind, isSouth, PICTURE)
          const drawn = [...p.fine, ...p.heavy, ...p.full, ...p.dotted]
          expect(drawn.length, id).toBeGreaterThan(2)
          for (const d of drawn) {
            expect(d).not.toMatch(/NaN|undefined/)
            // Absolute places alone: M and L.
            for (const [, x, y] of someOf(d.matchAll(/[ML]\s*(-?[\d.]+)[ ,](-?[\d.]+)/g))) {
              expect(Number(x)).toBeGreaterThanOrEqual(0)
              expect(Number(x)).toBeLessThanOrEqual(p.width)
              expect(Number(y)).toBeGreaterThanOrEqual(0)
              expect(Number(y)).toBeLessThanOrEqual(p.height)
            }
          }
          const isMount = ['mast', 'axes', 'references', 'solve', 'bolts'].includes(id)
          expect([p.lower !== null, p.upper !== null], id).toEqual([isMount, isMount])
        }
  })

  it('has east at the left where one looks south, at the right where one looks north', () => {
    const ends = (isSouth: boolean) =>
      stepPicture('sightings', 'x-y', isSouth, PICTURE)
        .texts.filter(t => t.text === 'E' || t.text === 'W')
        .sort((a, b) => a.x - b.x)
        .map(t => t.text)
    expect(ends(false)).toEqual(['E', 'W'])
    expect(ends(true)).toEqual(['W', 'E'])
  })

  it('a level for each axis that has one: two, but on an upright mount one', () => {
    const levels = (kind: (typeof KINDS)[number]) =>
      stepPicture('axes', kind, false, PICTURE).heavy.filter(d => /^M[^A]*Z$/.test(d)).length
    expect(KINDS.map(levels)).toEqual([1, 2, 2, 2])
  })
})

/**
 * Codes read out of pictures of them: placed, turned, slanted, out of focus, noisy, in the colours of each theme. The pictures are made
 * by `helpers/pictures.ts`, and none of them by the library that reads them; what a real lens and a real screen add is not in them.
 */
import { describe, expect, it } from 'vitest'
import { MOST_IN_ONE, modulesOfFrame, modulesOfText } from '../../../src/core/handover/code.ts'
import { gathering } from '../../../src/core/handover/gather.ts'
import { codeIn } from '../../../src/core/handover/seen.ts'
import { sequenceOf } from '../../../src/core/handover/sequence.ts'
import { type Look, seenByCamera } from '../../helpers/pictures.ts'
import { chance } from '../../helpers/random.ts'
import { drawn, shareOf } from '../../helpers/share.ts'

const luck = chance(11)
const BODY = Uint8Array.from({ length: 2800 }, () => luck.whole(0, 255))
const SEQUENCE = sequenceOf(BODY)!
/** A camera's square of 480 pixels, the code three quarters of it: 5 pixels a module. */
const NEAR: Look = { side: 480, fill: 0.75 }
const PATIENT = 60_000

const read = (number: number, look: Look) => codeIn(seenByCamera(modulesOfFrame(SEQUENCE.code(number)), look), PATIENT)
/** How many of some frames are read, and none of them wrongly. */
function readOf(numbers: readonly number[], lookOf: (number: number) => Look): number {
  let count = 0
  for (const number of numbers) {
    const text = read(number, { seed: number + 1, ...lookOf(number) })
    if (text === null) continue
    expect(text).toBe(SEQUENCE.code(number))
    count++
  }
  return count
}
const SIX = [0, 1, 2, 10, 20, 30]

describe('a frame in a picture', () => {
  it('is a code of 61 modules with its light border', () => {
    const modules = modulesOfFrame(SEQUENCE.code(0))
    expect(modules.length).toBe(61 + 2 * 4)
    const border = modules.flatMap((row, y) => row.filter((_, x) => Math.min(x, y, 68 - x, 68 - y) < 4))
    expect(border.some(isDark => isDark)).toBe(false)
  })

  it('is read where it is sharp, however it is turned', () => {
    expect(readOf(SIX, number => ({ ...NEAR, fill: 0.68, turnDeg: 60 * number }))).toBeGreaterThanOrEqual(5)
  })

  it('is read at a slant, with noise, in uneven light and a little out of focus', () => {
    const tilted = (number: number): Look => ({
      ...NEAR,
      turnDeg: 7 * (number % 5) - 14,
      slantUp: 0.2,
      slantLeft: -0.15,
      blurPx: 1,
      noise: 8,
      shade: 0.6,
    })
    expect(readOf(SIX, tilted)).toBeGreaterThanOrEqual(5)
  })

  it('is read out of focus by a quarter of a module and more, not by a whole one', () => {
    expect(readOf(SIX, () => ({ ...NEAR, blurPx: 1.5, noise: 4 }))).toBeGreaterThanOrEqual(4)
    expect(readOf([0, 10], () => ({ ...NEAR, blurPx: 5, noise: 4 }))).toBe(0)
  })

  drawn('is passed over at a slant now and then, and read at most of them', () => {
    // Up to 20 % nearer at one edge, both ways.
    const slants = [-0.2, -0.1, 0.15, 0.2].flatMap(up => [-0.15, 0.1, 0.2].map(left => [up, left] as const))
    const look = (number: number): Look => ({
      ...NEAR,
      slantUp: slants[number]![0],
      slantLeft: slants[number]![1],
      blurPx: 0.6,
      noise: 4,
    })
    expect(readOf([...slants.keys()], look)).toBeGreaterThanOrEqual(9)
  })

  it.each(
    shareOf(
      [
        ['night', [0xea, 0x19, 0x10], [0, 0, 0]],
        ['daylight', [255, 255, 255], [0, 0, 0]],
        ['dusk', [0xe9, 0xee, 0xf2], [0, 0, 0]],
      ] as const,
      1,
    ),
  )('is read in the colours of %s', (_, light, dark) => {
    const look = { ...NEAR, blurPx: 1, noise: 4, light, dark, around: [8, 8, 8] } as const
    expect(readOf(SIX, () => look)).toBeGreaterThanOrEqual(5)
  })

  // From screen to camera: codes.spec.ts; with a third lost, unseen: gather.test.ts.
  drawn('goes all the way: pictures of frames, a third of them blurred beyond reading, make the body', () => {
    const reader = gathering()
    for (let number = 0; number < 60; number++) {
      const text = read(number, { ...NEAR, blurPx: number % 3 === 1 ? 6 : 0.8, noise: 6, seed: number + 1 })
      if (text === null) continue
      const taken = reader.take(text)
      if (taken.kind !== 'whole') continue
      expect(taken.body).toEqual(BODY)
      expect(number).toBeLessThan(2 * SEQUENCE.count + 10)
      return
    }
    expect.unreachable('never whole')
  })

  it('is no code in a picture without one, or of half a one', () => {
    const picture = seenByCamera(modulesOfFrame(SEQUENCE.code(0)), NEAR)
    expect(codeIn({ ...picture, data: picture.data.map(() => 128) }, PATIENT)).toBe(null)
    expect(codeIn({ width: 480, height: 200, data: picture.data.slice(0, 4 * 480 * 200) }, PATIENT)).toBe(null)
  })
})

describe('one code alone', () => {
  it('holds any text up to its size, in UTF-8, and no more', () => {
    const encoded = (text: string) => new TextEncoder().encode(text)
    for (const text of ['1', 'heading 1.3 ± 0.6° − “quoted”, Grüße, 月\nsecond line\n', 'ä'.repeat(700)]) {
      const modules = modulesOfText(encoded(text))!
      expect(codeIn(seenByCamera(modules, { side: 900, fill: 0.85, blurPx: 0.8 }), PATIENT)).toBe(text)
    }
    expect(modulesOfText(new Uint8Array(MOST_IN_ONE).fill(97))?.length).toBe(125 + 8)
    expect(modulesOfText(new Uint8Array(MOST_IN_ONE + 1).fill(97))).toBe(null)
    expect(modulesOfText(new Uint8Array(0))).toBe(null)
  })
})

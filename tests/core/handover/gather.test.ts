import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { codeParts, LONGEST_BODY, textFromFrame } from '../../../src/core/handover/frame.ts'
import { type CodeTaken, gathering } from '../../../src/core/handover/gather.ts'
import { type Sequence, sequenceOf } from '../../../src/core/handover/sequence.ts'
import { chance } from '../../helpers/random.ts'

const bodyOf = (length: number, seed = 1): Uint8Array => {
  const luck = chance(seed)
  return Uint8Array.from({ length }, () => luck.whole(0, 255))
}
const sequence = (body: Uint8Array): Sequence => sequenceOf(body)!

/** Frames as they are shown, some of them lost, until the whole is there. */
function acrossWith(s: Sequence, isLost: (number: number) => boolean, from = 0, most = 20_000) {
  const reader = gathering()
  let read = 0
  for (let number = from; number < from + most; number++) {
    if (isLost(number)) continue
    read++
    const taken = reader.take(s.code(number))
    if (taken.kind === 'whole') return { body: taken.body, shown: number + 1 - from, read }
    if (taken.kind !== 'part') throw new Error(taken.kind)
  }
  throw new Error('never whole')
}

describe('a running sequence', () => {
  it('brings the body over in as many frames as there are parts, where none is lost', () => {
    for (const length of [1, 2, 285, 286, 287, 573, 15_000]) {
      const body = bodyOf(length)
      const s = sequence(body)
      const across = acrossWith(s, () => false)
      expect(across.body).toEqual(body)
      expect(across.read).toBe(s.count)
    }
  })

  it('brings it over in any order, each as often as you like', () => {
    fc.assert(
      fc.property(
        fc.uint8Array({ minLength: 1, maxLength: 1500, size: 'max' }),
        fc.infiniteStream(fc.nat({ max: 60 })),
        (body, numbers) => {
          const s = sequence(body)
          const reader = gathering()
          let have = 0
          for (const number of numbers) {
            const taken = reader.take(s.code(number))
            if (taken.kind === 'whole') {
              expect(taken.body).toEqual(body)
              return
            }
            if (taken.kind !== 'part') throw new Error(taken.kind)
            // What is new counts once, what is not counts not at all.
            expect(taken.have).toBe(have + (taken.new ? 1 : 0))
            have = taken.have
            expect(taken.of).toBe(s.count)
          }
        },
      ),
      { numRuns: 150 },
    )
  })

  it('says that a frame shown again brings nothing', () => {
    const s = sequence(bodyOf(3000))
    const reader = gathering()
    expect(reader.take(s.code(3))).toMatchObject({ kind: 'part', new: true, have: 1 })
    expect(reader.take(s.code(3))).toMatchObject({ kind: 'part', new: false, have: 1 })
  })

  it('costs about two frames more than there are parts, no matter which third is lost', () => {
    const extra: number[] = []
    for (let seed = 1; seed <= 40; seed++) {
      const luck = chance(seed)
      const body = bodyOf(luck.whole(1, 12_000), seed)
      const s = sequence(body)
      const from = luck.whole(0, 500) // the camera looks later than the codes begin
      const { body: came, read } = acrossWith(s, () => luck.next() < 1 / 3, from)
      expect(came).toEqual(body)
      extra.push(read - s.count)
    }
    // A random square matrix over GF(2) lacks 1.6 rows on average.
    expect(extra.reduce((a, b) => a + b) / extra.length).toBeLessThan(2)
    expect(Math.max(...extra)).toBeLessThan(14)
  })

  it('comes over where every third frame is lost, or the first hundred, or all but every seventh', () => {
    const body = bodyOf(20_000)
    const s = sequence(body)
    for (const isLost of [(n: number) => n % 3 === 1, (n: number) => n < 100, (n: number) => n % 7 !== 0]) {
      const across = acrossWith(s, isLost)
      expect(across.body).toEqual(body)
      expect(across.read).toBeLessThan(s.count + 14)
    }
  })

  it('has frames of one length, so that all its codes are of one size', () => {
    const s = sequence(bodyOf(10_000))
    const lengths = new Set(Array.from({ length: 200 }, (_, k) => s.code(k).length))
    expect(lengths.size).toBe(1)
    expect([...lengths][0]).toBeLessThanOrEqual(468)
  })

  it('carries up to 300 000 bytes, and says no beyond', () => {
    expect(sequenceOf(new Uint8Array(LONGEST_BODY + 1))).toBe(null)
    expect(sequenceOf(new Uint8Array(0))).toBe(null)
    const long = new Uint8Array(LONGEST_BODY)
    expect(sequence(long).count).toBeGreaterThan(1000)
    // A fifth of that, since the time grows with the square.
    const body = bodyOf(LONGEST_BODY / 5)
    expect(acrossWith(sequence(body), n => n % 3 === 0).body).toEqual(body)
  })
})

describe('what is not to be taken', () => {
  it('is refused by its kind, and changes nothing', () => {
    const body = bodyOf(900)
    const s = sequence(body)
    const reader = gathering()
    reader.take(s.code(0))
    const refused: [string, CodeTaken['kind']][] = [
      ['https://example.org/', 'foreign'],
      ['', 'foreign'],
      ['MOONPLUMB0:AAAA', 'foreign'],
      ['moonplumb1:', 'foreign'],
      ['MOONPLUMB2:ABC', 'newer'],
      ['MOONPLUMB1:', 'damaged'],
      ['MOONPLUMB1:BB8', 'damaged'],
      [sequence(bodyOf(900, 2)).code(0), 'other'],
    ]
    for (const [text, kind] of refused) expect(reader.take(text).kind, text).toBe(kind)
    expect(reader.take(s.code(0))).toEqual({ kind: 'part', new: false, have: 1, of: s.count })
  })

  it('is every frame with one letter changed, left out or put in', () => {
    const s = sequence(bodyOf(700))
    fc.assert(
      fc.property(
        fc.nat({ max: 40 }),
        fc.nat({ max: 10_000 }),
        fc.constantFrom(...'0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:', ''),
        fc.boolean(),
        (number, where, letter, isIn) => {
          const text = s.code(number)
          const at = where % text.length
          const bad = text.slice(0, at) + letter + text.slice(isIn ? at : at + 1)
          if (bad === text) return
          expect(['damaged', 'foreign', 'newer']).toContain(gathering().take(bad).kind)
        },
      ),
      // A version is written in one way: "01" is no 1.
      { numRuns: 200, examples: [[0, 9, '0', true]] },
    )
  })

  it('is a second book: what is there of the first stays, until the person asks to start over', () => {
    const [first, second] = [bodyOf(3000, 1), bodyOf(3000, 2)]
    const [a, b] = [sequence(first), sequence(second)]
    const reader = gathering()
    for (let k = 0; k < 5; k++) reader.take(a.code(k))
    for (let k = 0; k < 40; k++) expect(reader.take(b.code(k)).kind).toBe('other')
    expect(reader.take(a.code(5))).toMatchObject({ kind: 'part', have: 6 })
    reader.startOver()
    for (let k = 0; k < b.count - 1; k++) reader.take(b.code(k))
    expect(reader.take(b.code(b.count - 1))).toEqual({ kind: 'whole', body: second })
  })

  it('never makes a wrong body of two sequences, of damaged and of foreign codes mixed', () => {
    let whole = 0
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1_000_000 }), seed => {
        const luck = chance(seed)
        const bodies = [bodyOf(luck.whole(1, 3000), seed), bodyOf(luck.whole(1, 3000), seed + 1)]
        const both = bodies.map(sequence)
        const reader = gathering()
        for (let k = 0; k < 200; k++) {
          const text = luck.one(both).code(luck.whole(0, 60))
          const at = luck.whole(0, text.length - 1)
          const shown = luck.next() < 0.2 ? text.slice(0, at) + luck.one([...'0AZ:%']) + text.slice(at + 1) : text
          if (luck.next() < 0.01) reader.startOver()
          const taken = reader.take(shown)
          expect(taken.kind).not.toBe('not-whole')
          if (taken.kind !== 'whole') continue
          whole++
          expect(bodies.some(body => Buffer.compare(body, taken.body) === 0)).toBe(true)
        }
      }),
      { numRuns: 30 },
    )
    expect(whole).toBeGreaterThan(30)
  })

  it('is a whole whose parts do not make up what was sent', () => {
    // Frames that each pass their own check and yet are of no one body: made on purpose, no accident makes them.
    const body = bodyOf(500)
    const s = sequence(body)
    const { count, size } = codeParts(500)
    const forged = textFromFrame({ id: s.id, length: 500, number: 0, payload: bodyOf(size, 9) })
    const reader = gathering()
    reader.take(forged)
    for (let k = 1; k < count - 1; k++) reader.take(s.code(k))
    expect(reader.take(s.code(count - 1))).toEqual({ kind: 'not-whole' })
    // All of it is dropped, and the next frame begins again.
    expect(reader.take(s.code(0))).toMatchObject({ kind: 'part', have: 1 })

    const other = gathering()
    other.take(forged)
    expect(other.take(s.code(0)).kind).toBe('not-whole')
  })
})

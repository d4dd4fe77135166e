import { describe, expect, it } from 'vitest'
import { readFieldBook } from '../../../src/core/records/intake.ts'
import { writeFieldBook } from '../../../src/core/records/outgo.ts'
import { mutant } from '../../helpers/mutants.ts'
import { seeded } from '../../helpers/random.ts'
import { isWhole } from '../../helpers/share.ts'
import { smallBook } from '../../helpers/smallbook.ts'
import { someOf } from '../../helpers/some.ts'

const parses = (text: string): boolean => {
  try {
    JSON.parse(text)
    return true
  } catch {
    return false
  }
}

describe('seeded mutants of a small book', () => {
  it('throw nothing; at least 30 % parse as JSON and 5 % are legal, and the legal ones go out as they came', () => {
    const random = seeded(20260501)
    const MUTANTS = isWhole ? 2000 : 800 // 10,000 by npm run faults
    let json = 0
    let legal = 0
    const thrown: string[] = []
    for (let i = 0; i < MUTANTS; i += 1) {
      const text = mutant(smallBook(), random)
      const isJson = parses(text)
      if (isJson) json += 1
      try {
        const read = readFieldBook(text)
        if (read.ok) {
          legal += 1
          expect(isJson).toBe(true)
          expect(JSON.parse(writeFieldBook(read.value))).toEqual(JSON.parse(text))
        } else {
          expect(read.faults.length).toBeGreaterThan(0)
          for (const { path, rule } of someOf(read.faults)) {
            expect(`${path} ${rule}`).toMatch(/^[^\p{Cc}\u200e\u200f\u202a-\u202e\u2066-\u2069\ud800-\udfff]+$/u)
            expect(rule.length).toBeLessThan(400)
          }
        }
      } catch (error) {
        thrown.push(`${error}\n${text}`)
      }
    }
    console.log(`mutants: ${MUTANTS}, JSON ${json}, legal ${legal}, thrown ${thrown.length}`)
    expect(thrown).toEqual([])
    expect(json).toBeGreaterThanOrEqual(0.3 * MUTANTS)
    expect(legal).toBeGreaterThanOrEqual(0.05 * MUTANTS)
  })
})

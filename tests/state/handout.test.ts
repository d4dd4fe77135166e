/** What is handed out, and under which name. */
import 'fake-indexeddb/auto'
import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { run } from '../../src/batch/main.ts'
import { solve } from '../../src/core/questions.ts'
import { fileName, solutionText } from '../../src/state/handout.ts'

const DAY = Date.UTC(2026, 10, 25, 12)

describe('fileName', () => {
  it('is of letters, digits and dashes whatever the station is called', () => {
    expect(fileName('Ridge test dish', 'fieldbook', DAY)).toBe('ridge-test-dish-2026-11-25.fieldbook.txt')
    expect(fileName('Übungs/platz\u202e', 'targets', DAY, 'csv')).toBe('u-bungs-platz-2026-11-25.targets.csv')
    expect(fileName('\u05d0\u05d1 \ud800', 'solution', DAY)).toBe('moonplumb-2026-11-25.solution.txt')
    expect(fileName('x'.repeat(300), 'fieldbook', DAY)).toHaveLength(40 + '-2026-11-25.fieldbook.txt'.length)
  })
})

describe('solutionText', () => {
  it('is, to the byte, what the batch command prints for the same file and the same now', () => {
    const file = 'tests/examples/tilting-polar.fieldbook.json'
    const book = JSON.parse(readFileSync(file, 'utf8'))
    const now = '2026-06-01T00:00:00Z'
    const ours = solve(book, { now })
    if (!ours.ok) throw new Error(ours.faults[0]!.rule)
    const desk = run(['solve', file, '--now', now], () => '')
    expect(desk.exit).toBe(0)
    expect(solutionText(ours.value)).toBe(desk.stdout)
  })
})

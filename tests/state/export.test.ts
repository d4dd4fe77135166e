/** What is exported, and under which file name. */
import { bringIn } from '../helpers/broughtin.ts'
import 'fake-indexeddb/auto'
import { readFileSync } from 'node:fs'
import { describe, expect, it, vi } from 'vitest'
import { run } from '../../src/batch/main.ts'
import { solve } from '../../src/core/questions.ts'
import type { FieldBook } from '../../src/core/records/fieldbook.ts'
import { fieldBook } from '../../src/state/book.ts'
import { bookParcel, compareBackup, fileName, handOn, pendingBackup, solutionText } from '../../src/state/export.ts'
import { answered } from '../helpers/answered.ts'
import { smallBook } from '../helpers/smallbook.ts'

const DAY = Date.UTC(2026, 10, 25, 12)

describe('fileName', () => {
  it('is of letters, digits and dashes whatever the station is called', () => {
    expect(fileName('Ridge test dish', 'fieldbook', DAY)).toBe('ridge-test-dish-2026-11-25.fieldbook.txt')
    expect(fileName('Übungs/platz\u202e', 'targets', DAY, 'csv')).toBe('u-bungs-platz-2026-11-25.targets.csv')
    expect(fileName('\u05d0\u05d1 \ud800', 'solution', DAY)).toBe('moonplumb-2026-11-25.solution.txt')
    expect(fileName('x'.repeat(300), 'fieldbook', DAY)).toHaveLength(40 + '-2026-11-25.fieldbook.txt'.length)
  })
})

describe('compareBackup', () => {
  it('takes the very bytes for the backup, and nothing that differs in one', async () => {
    vi.stubGlobal('navigator', { clipboard: { writeText: async () => {} } })
    await fieldBook.load()
    await bringIn(fieldBook, smallBook() as FieldBook)
    const parcel = bookParcel('Ridge', DAY, ['st-1'])
    expect((await handOn('copy', parcel)).outcome).toBe('copied')
    expect(fieldBook.backups.value).toHaveLength(1)
    const other = parcel.text.replace('47', '48')
    expect(other).toHaveLength(parcel.text.length)
    expect(await compareBackup(new Blob([other]))).toBe('other')
    expect(await compareBackup(`${parcel.text} `)).toBe('other')
    expect(pendingBackup.value).not.toBeNull()
    expect(await compareBackup(new Blob([parcel.text]))).toBe('same')
    expect(pendingBackup.value).toBeNull()
    expect(fieldBook.backups.value).toEqual([])
    vi.unstubAllGlobals()
  })
})

describe('solutionText', () => {
  it('is, to the byte, what the batch command prints for the same file and the same now', () => {
    const file = 'tests/examples/tilting-polar.fieldbook.json'
    const book = JSON.parse(readFileSync(file, 'utf8'))
    const now = '2026-06-01T00:00:00Z'
    const ours = answered(solve(book, { now }))
    const desk = run(['solve', file, '--now', now], () => '')
    expect(desk.exit).toBe(0)
    expect(solutionText(ours)).toBe(desk.stdout)
  })
})

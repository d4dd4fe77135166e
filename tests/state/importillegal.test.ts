/** An import whose choices would leave the book unsound writes nothing, as the store says when it is read again. */
import { bringIn } from '../helpers/broughtin.ts'
import 'fake-indexeddb/auto'
import { describe, expect, it } from 'vitest'
import type { FieldBook } from '../../src/core/records/fieldbook.ts'
import { fieldBook } from '../../src/state/book.ts'
import { arrivalsFor, faultsAfter, importAtOnce, planOfText } from '../../src/state/import.ts'
import { smallBook } from '../helpers/smallbook.ts'
import { did } from '../helpers/steps.ts'

describe('importAtOnce', () => {
  it('refuses a choice that leaves a sighting without its feed, and writes none of the rest either', async () => {
    await fieldBook.load()
    await bringIn(fieldBook, smallBook() as FieldBook)
    const before = JSON.stringify(fieldBook.book.value)
    const theirs = smallBook()
    theirs.stations[0].feeds.push({ id: 'c', name: 'third', frequencyMHz: 10_368 })
    theirs.stations[0].sightings.push({ ...theirs.stations[0].sightings[0], id: 'si-new', feed: 'c' })
    const looked = planOfText(fieldBook.records.value, JSON.stringify(theirs))
    if (looked.kind !== 'plan') throw new Error('refused')
    const choices = { sides: {}, rest: 'mine', deleted: null } as const
    expect(faultsAfter(fieldBook.records.value, arrivalsFor(looked.plan, choices))[0]?.rule).toMatch(/no feed "c"/)
    expect(await importAtOnce(looked.plan, choices, did('bring in'))).toBe(false)
    expect(JSON.stringify(fieldBook.book.value)).toBe(before)
    expect(fieldBook.unsaved.value).toEqual([])
    await fieldBook.load()
    expect(fieldBook.records.value.some(record => record.id.endsWith('/si-new'))).toBe(false)
  })
})

import { describe, expect, it } from 'vitest'
import type { FieldBook } from '../../src/core/records/fieldbook.ts'
import { recordsFromBook } from '../../src/core/records/revisions.ts'
import type { StoredRecord } from '../../src/core/records/stored.ts'
import { faultsOfStep } from '../../src/state/steprules.ts'
import type { UndoStep } from '../../src/state/steps.ts'
import { smallBook } from '../helpers/smallbook.ts'

const records = recordsFromBook(smallBook() as FieldBook).map(
  (draft): StoredRecord => ({ ...draft, deleted: false, place: draft.place ?? 0, revision: 1, writtenMs: 0, app: '' }),
)
const sighting = records.find(r => r.kind === 'sighting')!
const broken = { ...sighting, body: { ...(sighting.body as object), feed: 'nowhere' } }
const already = records.map(r => (r.id === broken.id ? broken : r))
const ofSighting = (kind: 'use' | 'edit-sighting') =>
  ({ kind, place: 'sight', subject: { id: 'a', utcMs: 0, use: 'never' } }) as UndoStep

describe('faultsOfStep', () => {
  it('lets an act change one thing of a record that was at fault before, and says all that is wrong with a form', () => {
    const left = { ...broken, body: { ...broken.body, use: 'never' } }
    expect(faultsOfStep(already, [left], ofSighting('use'))).toEqual([])
    expect(faultsOfStep(already, [left], ofSighting('edit-sighting')).map(fault => fault.path)).toEqual(['feed'])
    expect(faultsOfStep(already, [left], null)).toEqual([])
  })

  it('lets no act bring in a fault', () => {
    expect(faultsOfStep(records, [broken], ofSighting('use')).map(fault => fault.path)).toEqual(['feed'])
    expect(faultsOfStep(records, [broken], null).map(fault => fault.path)).toEqual(['feed'])
  })
})

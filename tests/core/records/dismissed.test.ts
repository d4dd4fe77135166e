import { describe, expect, it } from 'vitest'
import { dismissalOf, dismissedAt, isDismissed, withDismissed } from '../../../src/core/records/dismissed.ts'
import type { StationRecord } from '../../../src/core/records/fieldbook.ts'
import { checkFieldBook } from '../../../src/core/records/intake.ts'
import type { Suspect } from '../../../src/core/records/solution.ts'
import { smallBook } from '../../helpers/smallbook.ts'

const step: Suspect = {
  kind: 'counter-step',
  text: 'The upper counter lost about 12 counts.',
  deltaChi2: 31.4,
  settle: 'Drive to the stop.',
  rivals: [],
  axis: 'upper',
  between: ['a', 'b'],
  betweenUtc: ['2026-10-10T08:00:00Z', '2026-10-12T08:00:00Z'],
}
const clock: Suspect = { kind: 'clock-or-longitude', text: '', deltaChi2: 20, settle: '', rivals: [] }
const station = (): StationRecord => smallBook().stations[0]

describe('a suspect put aside', () => {
  it('stays away, and comes back when its χ² of 31 has grown to 48', () => {
    const kept = dismissedAt(withDismissed(station(), step))
    expect(isDismissed(step, kept)).toBe(true)
    expect(isDismissed({ ...step, deltaChi2: 46 }, kept)).toBe(true)
    expect(isDismissed({ ...step, deltaChi2: 48 }, kept)).toBe(false)
  })

  it('says nothing of another axis, another time or another kind', () => {
    const kept = dismissedAt(withDismissed(station(), step))
    expect(isDismissed({ ...step, axis: 'lower' }, kept)).toBe(false)
    expect(isDismissed({ ...step, betweenUtc: ['2026-11-01T00:00:00Z', '2026-11-02T00:00:00Z'] }, kept)).toBe(false)
    expect(isDismissed(clock, kept)).toBe(false)
  })

  it('still counts when a new sighting narrows the gap', () => {
    const kept = dismissedAt(withDismissed(station(), step))
    expect(isDismissed({ ...step, betweenUtc: ['2026-10-11T00:00:00Z', '2026-10-12T08:00:00Z'] }, kept)).toBe(true)
  })

  it('is remembered once, however often, and forgotten when looked at again', () => {
    const twice = withDismissed(withDismissed(station(), step), { ...step, deltaChi2: 60 })
    expect(dismissedAt(twice)).toEqual([dismissalOf({ ...step, deltaChi2: 60 })])
    const both = withDismissed(twice, clock)
    expect(dismissedAt(withDismissed(both, step, true))).toEqual([dismissalOf(clock)])
  })

  it('leaves the station legal, and a text of another meaning does no harm', () => {
    const book = smallBook()
    book.stations[0] = withDismissed(book.stations[0], step)
    expect(checkFieldBook(book)).toEqual([])
    expect(isDismissed(step, ['counter-step', '', 'counter-step upper x y z'])).toBe(false)
  })

  it('is legal as it is written, and refused by its place where it is no such text', () => {
    const faults = (dismissed: unknown[]) =>
      checkFieldBook({ ...smallBook(), stations: [{ ...station(), dismissed }] }).map(fault => fault.path)
    const feed: Suspect = { ...clock, kind: 'feed-moved', feed: 'a b', deltaChi2: 0.2 }
    const written = [step, clock, feed].flatMap(s => dismissedAt(withDismissed(station(), s)))
    expect(written).toHaveLength(3)
    expect(faults(written)).toEqual([])
    expect(faults(['feed-moved a b - - 12'])).toEqual([])
    for (const wrong of ['', 'clock', 'clock - - -', 'clock - - - x', 'clock - yesterday - 5', 'Clock - - - 5', 5])
      expect([wrong, faults([...written, wrong])]).toEqual([wrong, ['stations[0].dismissed[3]']])
  })
})

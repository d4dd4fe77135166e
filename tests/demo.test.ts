/** The demo station, as the helpers make it: legal, nothing empty, its one suspicion the planted one. */
import { expect, it } from 'vitest'
import { aim } from '../src/core/mount/aim.ts'
import { onPaper } from '../src/core/mount/slots.ts'
import { solve } from '../src/core/questions.ts'
import type { FieldBook } from '../src/core/records/fieldbook.ts'
import { readFieldBook } from '../src/core/records/intake.ts'
import type { Solution } from '../src/core/records/solution.ts'
import { stationFromRecord, targetFromRecord } from '../src/core/records/stationintake.ts'
import { apparentPlace } from '../src/core/sky/targets.ts'
import { degFromRad } from '../src/core/units.ts'
import { answered } from './helpers/answered.ts'
import { DEMO_UTC, demoBook, LOST_COUNTS } from './helpers/demobook.ts'

const book = demoBook()
const station = book.stations[0]!

function solved(of: FieldBook): Solution {
  return answered(solve(of, { now: DEMO_UTC }))
}

it('is the file that the program brings along, to the byte, and legal', async () => {
  const text = `${JSON.stringify(book, null, 1)}\n`
  expect(readFieldBook(text)).toMatchObject({ ok: true })
  await expect(text).toMatchFileSnapshot('../public/demo.fieldbook.json')
})

it('has something in every list', () => {
  for (const list of [
    'sightings',
    'levels',
    'references',
    'changes',
    'scans',
    'noise',
    'clockChecks',
    'instruments',
    'checks',
    'halfSightings',
    'adjusters',
  ] as const)
    expect(station[list]?.length, list).toBeGreaterThan(0)
  expect(station.dish.measured).toMatchObject({ rims: [{}], strings: [{}, {}] })
})

it.each(['sun', 'moon'] as const)(
  'has the %s well up and within reach for an hour and a half from where its clock stands',
  type => {
    const { model, site } = stationFromRecord(station)
    for (let h = 0; h <= 1.5; h += 0.5) {
      const place = apparentPlace(targetFromRecord({ type }), Date.parse(DEMO_UTC) + 3_600_000 * h, site, 'radio')
      expect(degFromRad(place.el)).toBeGreaterThan(20)
      expect(aim(model, onPaper(), 'beam', place.direction)?.inside).toBe(true)
    }
  },
)

it('is under one suspicion, of the counter that lost counts; with that accepted the mount is within tolerance', () => {
  const before = solved(book)
  expect(before.sky.within).toBe(false)
  expect(before.suspects).toMatchObject([
    { kind: 'counter-step', axis: 'upper', offer: { type: 'change', slipped: true } },
  ])
  expect(before.suspects[0]!.counts).toBeGreaterThan(LOST_COUNTS - 5)
  expect(before.suspects[0]!.counts).toBeLessThan(LOST_COUNTS + 5)
  const { type: _, ...change } = before.suspects[0]!.offer as { type: string; utc: string; what: string[] }
  const accepted = { ...station, changes: [...station.changes!, { id: 'slip', ...change }] }
  const after = solved({ ...book, stations: [accepted] } as FieldBook)
  expect(after.suspects).toEqual([])
  expect(after.sky).toMatchObject({ within: true, whyNot: [] })
  expect(after.fit.outliers).toBe(1)
})

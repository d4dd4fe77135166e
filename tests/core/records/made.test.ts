import fc from 'fast-check'
import * as v from 'valibot'
import { describe, expect, it } from 'vitest'
import { DELETION, join, type MergeSide } from '../../../src/core/records/join.ts'
import {
  afterEdit,
  editsIn,
  firstKnown,
  knownFrom,
  MOST_EDITS,
  madeForFile,
  madeFrom,
  type RecordState,
} from '../../../src/core/records/made.ts'
import { MadeSchema } from '../../../src/core/records/schemas/made.ts'
import { drawnHistory } from '../../helpers/phones.ts'
import { chance } from '../../helpers/random.ts'
import { smallBook } from '../../helpers/smallbook.ts'

type Body = Record<string, unknown>
const first = (body: Body, number = 1): RecordState => ({
  kind: 'sighting',
  body,
  deleted: false,
  known: firstKnown('sighting', body, false, number),
})
const edit = (state: RecordState, change: Body): RecordState =>
  afterEdit(state, { ...(state.body as Body), ...change }, false)
const remove = (state: RecordState): RecordState => afterEdit(state, state.body, true)
/** Out into a file and in again. */
const sent = (state: RecordState): RecordState => {
  const made = madeForFile(state)
  const body = state.deleted ? undefined : JSON.parse(JSON.stringify(state.body))
  return {
    ...state,
    body,
    known: knownFrom(state.kind, body, state.deleted, 1, made && JSON.parse(JSON.stringify(made))),
  }
}
const taking = (side: MergeSide) => () => side
const START = first({ id: 's', lower: 1, upper: 2 })

describe('join', () => {
  it('takes the one that follows from the other, whichever side it is on', () => {
    const later = sent(edit(edit(START, { lower: 5 }), { upper: 6 }))
    for (const [mine, theirs] of [
      [START, later],
      [later, START],
    ] as const) {
      const joined = join(mine, theirs)
      expect(joined.asks).toEqual([])
      expect(joined.settle(taking('mine')).body).toEqual({ id: 's', lower: 5, upper: 6 })
    }
  })

  it('asks field by field about what both wrote, and takes the rest from where it was written', () => {
    const mine = edit(START, { lower: 5, note: 'mine' })
    const theirs = sent(edit(START, { lower: 6, upper: 7 }))
    const joined = join(mine, theirs)
    expect(joined.asks).toEqual([{ part: '/lower', mine: 5, theirs: 6 }])
    expect(joined.taken).toEqual(['/upper'])
    expect(joined.settle(taking('theirs')).body).toEqual({ id: 's', lower: 6, upper: 7, note: 'mine' })
  })

  it('does not ask about a value that both wrote alike', () => {
    const joined = join(edit(START, { lower: 5 }), sent(edit(edit(START, { lower: 9 }), { lower: 5 })))
    expect(joined.asks).toEqual([])
  })

  it('never asks again what was answered, on either phone, also against the sides as they were', () => {
    const [mine, theirs] = [edit(START, { lower: 5 }), edit(START, { lower: 6 })]
    for (const side of ['mine', 'theirs'] as const) {
      const answered = join(mine, sent(theirs)).settle(taking(side))
      for (const old of [mine, theirs, START]) {
        expect(join(answered, sent(old)).asks).toEqual([])
        expect(join(old, sent(answered)).asks).toEqual([])
        expect(join(old, sent(answered)).settle(taking('mine')).body).toEqual(answered.body)
      }
    }
  })

  it('gives one answer made on two phones one name, so that they agree', () => {
    const [a, b] = [edit(START, { lower: 5 }), edit(START, { lower: 6 })]
    const [onA, onB] = [join(a, sent(b)).settle(taking('mine')), join(b, sent(a)).settle(taking('theirs'))]
    expect(madeFrom(onA)).toEqual(madeFrom(onB))
  })

  it('asks again where two phones answered differently', () => {
    const [a, b] = [edit(START, { lower: 5 }), edit(START, { lower: 6 })]
    const [onA, onB] = [join(a, sent(b)).settle(taking('mine')), join(b, sent(a)).settle(taking('mine'))]
    expect(join(onA, sent(onB)).asks).toEqual([{ part: '/lower', mine: 5, theirs: 6 }])
  })

  it('lets a deletion stand over what it had seen, and asks about an edit that it had not', () => {
    expect(join(START, sent(remove(START))).settle(taking('mine')).deleted).toBe(true)
    const asks = join(edit(START, { lower: 5 }), sent(remove(START))).asks
    expect(asks).toEqual([{ part: DELETION, mine: false, theirs: true }])
    expect(join(remove(edit(START, { lower: 5 })), sent(edit(START, { lower: 5 }))).asks).toEqual([])
  })

  it('brings back what was deleted when somebody who knew of it did, with every field', () => {
    const gone = remove(edit(START, { lower: 5 }))
    const back = afterEdit(gone, START.body, false)
    const joined = join(gone, sent(back))
    expect([joined.asks, joined.settle(taking('mine')).body]).toEqual([[], START.body])
  })

  it('merges what an entry of a list of the station is, feed by feed, and keeps the latest order', () => {
    const body = { ...smallBook().stations[0], sightings: [] }
    const station: RecordState = { kind: 'station', body, deleted: false, known: firstKnown('station', body, false, 1) }
    const feed = (id: string) => ({ id, name: id, frequencyMHz: 1296 })
    const mine = afterEdit(station, { ...body, feeds: [...body.feeds, feed('m')] }, false)
    const theirs = afterEdit(station, { ...body, feeds: [feed('t'), ...body.feeds] }, false)
    const ids = (state: RecordState) => (state.body as { feeds: { id: string }[] }).feeds.map(f => f.id)
    const [a, b] = [join(mine, sent(theirs)), join(theirs, sent(mine))]
    expect([a.asks, b.asks]).toEqual([[], []])
    expect(ids(a.settle(taking('mine'))).sort()).toEqual(['a', 'b', 'm', 't'])
    expect(ids(a.settle(taking('mine')))).toEqual(ids(b.settle(taking('mine'))))
  })
})

describe('made', () => {
  it('is not written for a record that nobody has edited', () => {
    expect(madeForFile(START)).toBeUndefined()
  })

  it('is the same after a way through a file', () => {
    const state = remove(join(edit(START, { lower: 5 }), sent(edit(START, { upper: 6 }))).settle(taking('mine')))
    expect(madeFrom({ ...sent(state), body: state.body })).toEqual(madeFrom(state))
  })

  it('knows a record that an older program edited for an edit of the one that it names', () => {
    const known = edit(START, { lower: 5 })
    const made = madeForFile(known)!
    const body = { ...(known.body as Body), note: 'by the old one' }
    const old: RecordState = { ...known, body, known: knownFrom('sighting', body, false, 3, made) }
    expect(join(known, old).asks).toEqual([])
    expect(join(known, old).settle(taking('mine')).body).toEqual(body)
    // And one that went on here meanwhile is asked.
    expect(join(edit(known, { note: 'here' }), old).asks.map(ask => ask.part)).toEqual(['/note'])
  })

  it('takes a record of an older program under a higher number for newer than a first state, and asks about anything else', () => {
    const old = (body: Body, number: number) => first(body, number)
    expect(join(START, old({ id: 's', lower: 5 }, 2)).asks).toEqual([])
    expect(join(edit(START, { lower: 4 }), old({ id: 's', lower: 5, upper: 2 }, 7)).asks.map(a => a.part)).toEqual([
      '/lower',
    ])
  })

  it('lists a hundred edits and no more, and asks about what fell off rather than losing it', () => {
    let many = START
    for (let n = 0; n < 3 * MOST_EDITS; n++) many = edit(many, { lower: n + 10 })
    expect(editsIn(madeFrom(many)!.from)).toHaveLength(MOST_EDITS)
    // The other phone stayed at an edit that is no longer listed, and has none of its own.
    let early = START
    for (let n = 0; n < 50; n++) early = edit(early, { lower: n + 10 })
    expect(join(early, sent(many)).asks.map(ask => ask.part)).toEqual(['/lower'])
    // Nearer than that, it is known.
    let late = early
    for (let n = 50; n < 250; n++) late = edit(late, { lower: n + 10 })
    expect(join(late, sent(many)).asks).toEqual([])
  })

  it('is refused in any other shape, by its place', () => {
    const pathOf = (made: unknown) => {
      const { issues } = v.safeParse(MadeSchema, made)
      return issues === undefined ? null : (issues[0].path ?? []).map(item => item.key)
    }
    const good = madeForFile(edit(START, { lower: 5 }))!
    expect(pathOf(good)).toBeNull()
    for (const [made, keys] of [
      [7, []],
      [{}, ['from']],
      [{ ...good, from: '1.xyz' }, ['from']],
      [{ ...good, from: '' }, ['from']],
      [{ ...good, hash: 'x' }, ['hash']],
      [{ ...good, base: 3 }, ['base']],
      [{ ...good, wrote: [] }, ['wrote']],
      [{ ...good, wrote: { '/lower': '1' } }, ['wrote', '/lower']],
      [{ ...good, order: { feeds: { by: '', ids: [] } } }, ['order', 'feeds', 'by']],
      [{ ...good, order: { feeds: { by: good.from.split(' ')[0], ids: [5] } } }, ['order', 'feeds', 'ids', 0]],
      [{ ...good, deletedBy: null }, ['deletedBy']],
    ] as const)
      expect(pathOf(made), JSON.stringify(made)).toEqual(keys)
  })
})

describe('drawn histories', () => {
  // 10 000 of them in tests/faults/merges.study.ts.
  it('of two and three phones end with one book, ask nothing twice and lose no edit', () => {
    fc.assert(
      fc.property(fc.integer(), seed => {
        expect(drawnHistory(chance(seed), 7).wrong).toEqual([])
      }),
      { seed: 14, numRuns: 60 },
    )
  })
})

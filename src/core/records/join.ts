/**
 * Two states of one record become one. What only one side altered is taken from it; what both altered differently is asked
 * part by part; a deletion against an edit that it had not seen is asked as a whole. An answer is an edit that has seen both
 * sides, so nobody asks again.
 */
import { canonicalText } from './canonical.ts'
import { ENTRY_LISTS } from './kinds.ts'
import { byAge, hasSeen, highestNumber, type Known, type RecordState } from './made.ts'
import { bodyFromParts, contentHash, orderIn, type Parts, partsOf } from './parts.ts'

export type MergeSide = 'mine' | 'theirs'

/** A part that both sides wrote differently; undefined where a side has no such part. */
export interface Ask {
  /** JSON pointer; DELETION where the record was deleted on one side. */
  part: string
  mine: unknown
  theirs: unknown
  /** Not in doubt by itself, but asked because the whole book would be invalid otherwise: what merging alone would take. */
  wouldTake?: MergeSide
}

/** Stands for the record as a whole: one side has deleted it. */
export const DELETION = 'deleted'

export interface Joined {
  asks: readonly Ask[]
  /** Parts taken from their side without asking, where mine says otherwise. */
  taken: readonly string[]
  /**
   * The state after the answers.
   * @param answer  for every part asked
   */
  settle(answer: (part: string) => MergeSide): RecordState
}

interface Part {
  part: string
  mine: unknown
  theirs: unknown
  /** null: to be asked. 'both': they say the same. */
  takes: MergeSide | 'both' | null
  edits: ReadonlySet<string>
}

const same = (a: unknown, b: unknown): boolean =>
  a === b || (a !== undefined && b !== undefined && canonicalText(a) === canonicalText(b))
const sameSet = (a: ReadonlySet<string>, b: ReadonlySet<string>): boolean =>
  a.size === b.size && [...a].every(x => b.has(x))
const isIn = (edits: ReadonlySet<string>, known: Known): boolean => [...edits].every(edit => hasSeen(known, edit))

/** Edits that still stand: in both, or on one side and not seen by the other. */
function standing(mine: ReadonlySet<string>, m: Known, theirs: ReadonlySet<string>, t: Known): ReadonlySet<string> {
  const both = new Set<string>()
  for (const edit of mine) if (theirs.has(edit) || !hasSeen(t, edit)) both.add(edit)
  for (const edit of theirs) if (!hasSeen(m, edit)) both.add(edit)
  return both.size > 0 ? both : new Set([...mine, ...theirs])
}

/**
 * @param forced  parts that are asked although one side follows from the other, since the book would be invalid otherwise
 */
export function join(mine: RecordState, theirs: RecordState, forced: boolean = false): Joined {
  if (mine.deleted || theirs.deleted) return joinDeleted(mine, theirs, forced)
  const parts = comparedParts(mine, theirs)
  const asks: Ask[] = []
  const taken: string[] = []
  for (const { part, takes, mine: m, theirs: t } of parts) {
    if (takes === null) asks.push({ part, mine: m, theirs: t })
    else if (forced && takes !== 'both') asks.push({ part, mine: m, theirs: t, wouldTake: takes })
    else if (takes === 'theirs') taken.push(part)
  }
  return { asks, taken, settle: answer => settled(mine, theirs, parts, asks, answer) }
}

function comparedParts(mine: RecordState, theirs: RecordState): Part[] {
  const { kind } = mine
  const [m, t] = [mine.known, theirs.known]
  const [of, with_] = [partsOf(kind, mine.body), partsOf(kind, theirs.body)]
  const editsOf = (known: Known, parts: Parts, part: string): ReadonlySet<string> => {
    const wrote = known.wrote.get(part)
    if (wrote) return wrote
    // Each phone starts a book's own fields by itself: one that lacks a field has not deleted it.
    return kind === 'book' && !parts.has(part) ? NONE : known.base
  }
  const names = new Set([...of.keys(), ...with_.keys(), ...m.wrote.keys(), ...t.wrote.keys()])
  return [...names].map(part => {
    const [a, b] = [of.get(part), with_.get(part)]
    const [byMe, byThem] = [editsOf(m, of, part), editsOf(t, with_, part)]
    const edits = standing(byMe, m, byThem, t)
    if (same(a, b)) return { part, mine: a, theirs: b, takes: 'both', edits }
    const [mineStands, theirsStands] = [!isIn(byMe, t), !isIn(byThem, m)]
    const takes = mineStands === theirsStands ? null : mineStands ? 'mine' : 'theirs'
    return { part, mine: a, theirs: b, takes, edits }
  })
}
const NONE: ReadonlySet<string> = new Set()

function settled(
  mine: RecordState,
  theirs: RecordState,
  compared: readonly Part[],
  asks: readonly Ask[],
  answer: (part: string) => MergeSide,
): RecordState {
  const { kind } = mine
  const answers = new Map(asks.map(ask => [ask.part, answer(ask.part)]))
  const parts: Parts = new Map()
  const answered: string[] = []
  for (const { part, mine: a, theirs: b, takes } of compared) {
    const side = answers.get(part) ?? (takes === 'theirs' ? 'theirs' : 'mine')
    if (answers.has(part) && side !== takes) answered.push(part)
    const value = side === 'mine' ? a : b
    if (value !== undefined) parts.set(part, value)
  }
  const orders = joinedOrders(mine, theirs)
  const body = bodyOf(mine, theirs, parts, orders)

  const seen = new Set([...mine.known.seen, ...theirs.known.seen])
  const edits = new Map(compared.map(({ part, edits }) => [part, edits]))
  if (answered.length > 0) {
    const edit = new Set([`${highestNumber(seen) + 1}.${contentHash(kind, body, false)}`])
    for (const part of answered) edits.set(part, edit)
    for (const one of edit) seen.add(one)
  }
  const known: Known = { seen, ...written(mine.known.base, theirs.known.base, edits), order: orders, deletedBy: NONE }
  return { kind, body, deleted: false, known }
}

/** Who wrote what, in the shorter of the two ways to say it. */
function written(
  mine: ReadonlySet<string>,
  theirs: ReadonlySet<string>,
  edits: ReadonlyMap<string, ReadonlySet<string>>,
): Pick<Known, 'base' | 'wrote'> {
  const beside = (base: ReadonlySet<string>) =>
    new Map([...edits].filter(([, by]) => by.size > 0 && !sameSet(by, base)))
  const ways = sameSet(mine, theirs) ? [mine] : [mine, theirs]
  return ways
    .map(base => ({ base, wrote: beside(base) }))
    .sort((a, b) => a.wrote.size - b.wrote.size || ([...a.base].sort().join() < [...b.base].sort().join() ? -1 : 1))[0]!
}

/** One of the two bodies where it already says the same, so that nothing is put together needlessly. */
function bodyOf(mine: RecordState, theirs: RecordState, parts: Parts, orders: Known['order']): unknown {
  const asHere = ENTRY_LISTS.map((list): [string, readonly string[]] => [list, orderIn(mine.body, list) ?? []])
  const asJoined = [...orders].map(([list, o]): [string, readonly string[]] => [list, o.ids])
  const body = bodyFromParts(mine.kind, parts, mine.body, new Map([...asHere, ...asJoined]))
  for (const state of [mine, theirs])
    if (contentHash(state.kind, state.body, false) === contentHash(mine.kind, body, false)) return state.body
  return body
}

/** The order of a station's lists: that of the latest edit. */
function joinedOrders(mine: RecordState, theirs: RecordState): Map<string, { by: string; ids: readonly string[] }> {
  const orders = new Map<string, { by: string; ids: readonly string[] }>()
  if (mine.kind !== 'station') return orders
  for (const list of ENTRY_LISTS) {
    const of = (state: RecordState) =>
      state.known.order.get(list) ?? {
        by: [...state.known.base].sort(byAge).at(-1) ?? '',
        ids: orderIn(state.body, list) ?? [],
      }
    const [m, t] = [of(mine), of(theirs)]
    const isSame = m.by === t.by && canonicalText(m.ids) === canonicalText(t.ids)
    // An order that neither side ever altered need not be stored.
    if (isSame && !mine.known.order.has(list) && !theirs.known.order.has(list)) continue
    const later = m.by === t.by ? canonicalText(m.ids) > canonicalText(t.ids) : byAge(m.by, t.by) > 0
    orders.set(list, later ? m : t)
  }
  return orders
}

function joinDeleted(mine: RecordState, theirs: RecordState, forced: boolean): Joined {
  const [m, t] = [mine.known, theirs.known]
  const seen = new Set([...m.seen, ...t.seen])
  if (mine.deleted && theirs.deleted) {
    const deletedBy = standing(m.deletedBy, m, t.deletedBy, t)
    const state = { ...(mine.body === undefined ? theirs : mine), known: { ...m, seen, deletedBy } }
    return { asks: [], taken: [], settle: () => state }
  }
  const [gone, here] = mine.deleted ? [mine, theirs] : [theirs, mine]
  const goneSide: MergeSide = mine.deleted ? 'mine' : 'theirs'
  const hereSide: MergeSide = mine.deleted ? 'theirs' : 'mine'
  const deletionIsNews = !isIn(gone.known.deletedBy, here.known)
  const editIsNews =
    !isIn(here.known.base, gone.known) || [...here.known.wrote.values()].some(by => !isIn(by, gone.known))
  const takes = deletionIsNews === editIsNews ? null : deletionIsNews ? goneSide : hereSide
  const ask: Ask = { part: DELETION, mine: mine.deleted, theirs: theirs.deleted }
  const asks: Ask[] = takes === null ? [ask] : forced ? [{ ...ask, wouldTake: takes }] : []
  return {
    asks,
    taken: takes === 'theirs' ? [DELETION] : [],
    settle(answer) {
      const side = asks.length > 0 ? answer(DELETION) : takes!
      const isGone = side === goneSide
      const body = isGone ? (gone.body ?? here.body) : here.body
      const state: RecordState = {
        kind: mine.kind,
        body,
        deleted: isGone,
        known: { ...(isGone ? gone : here).known, seen },
      }
      if (asks.length === 0 || side === takes) return state
      const edit = `${highestNumber(seen) + 1}.${contentHash(mine.kind, body, isGone)}`
      const one = new Set([edit])
      const all = new Set([...seen, edit])
      return isGone
        ? { ...state, known: { ...state.known, seen: all, deletedBy: one } }
        : { ...state, known: { seen: all, base: one, wrote: new Map(), order: new Map(), deletedBy: NONE } }
    },
  }
}

/**
 * Phones that work on one book and hand files to and fro, drawn by a seed, with an account of every edit kept beside them: who
 * knew of which edit when it was made. The account knows nothing of how the program keeps it; it says what must not happen:
 * that a value stands at the end although somebody wrote another one whom nobody who decided had heard of.
 */
import { readFieldBook } from '../../src/core/records/intake.ts'
import { recordId } from '../../src/core/records/kinds.ts'
import { writeFieldBook } from '../../src/core/records/outgo.ts'
import {
  arrivalsFor,
  asked,
  type Choices,
  choiceKey,
  faultsAfter,
  openChoices,
  planFor,
  recordsAtFault,
} from '../../src/core/records/plan.ts'
import { bookForFile, madeAfter, madeOnUndo } from '../../src/core/records/revisions.ts'
import type { Draft, StoredRecord } from '../../src/core/records/stored.ts'
import type { Chance } from './random.ts'
import { bareStation } from './smallbook.ts'

/** An edit as the account has it: what was written where, and which edits of that record its writer knew. */
interface Written {
  part: string
  value: string
  knew: ReadonlySet<Written>
}

interface Undoable {
  before: Map<string, StoredRecord[]>
  knew: Map<string, Set<Written>>
}

export interface Phone {
  /** All revisions by record. */
  revisions: Map<string, StoredRecord[]>
  /** What was written to each record that whoever holds this phone knows of. */
  knows: Map<string, Set<Written>>
  /** The last bringing in, if nothing was done since. */
  undoable: Undoable | null
}

export interface Figures {
  edits: number
  exchanges: number
  /** Parts asked about. */
  asked: number
  together: number
  removed: number
  undone: number
  /** Merges that could not be made sound by any of the answers drawn. */
  refused: number
}

const STATION = 'st'
const WHOLE = 'all of it'

export class History {
  readonly phones: Phone[]
  readonly written = new Map<string, Set<Written>>()
  readonly figures: Figures = { edits: 0, exchanges: 0, asked: 0, together: 0, removed: 0, undone: 0, refused: 0 }
  private readonly draw: Chance
  private count = 0

  constructor(phones: number, draw: Chance) {
    this.draw = draw
    this.phones = Array.from({ length: phones }, () => ({ revisions: new Map(), knows: new Map(), undoable: null }))
    const book = {
      format: 'moonplumb-fieldbook',
      version: 1,
      exportedUtc: '2026-05-01T00:00:00Z',
      stations: [this.station()],
    }
    for (const phone of this.phones) this.bring(phone, JSON.stringify(book))
  }

  private station() {
    return {
      ...bareStation(STATION),
      notes: 'n0',
      tolerance: { echoLossDb: 0.5 },
      sightings: [0, 1, 2].map(n => sighting(`s${n}`, 'a')),
    }
  }

  current(phone: Phone): StoredRecord[] {
    return [...phone.revisions.values()].map(all => all.at(-1)!)
  }

  private put(phone: Phone, draft: Draft): StoredRecord {
    const all = phone.revisions.get(draft.id) ?? []
    const before = all.at(-1)
    const made = draft.made ?? madeAfter(before, draft)
    const record: StoredRecord = {
      id: draft.id,
      kind: draft.kind,
      station: draft.station,
      deleted: draft.deleted ?? false,
      place: draft.place ?? before?.place ?? 0,
      body: draft.body,
      revision: (before?.revision ?? 0) + 1,
      writtenMs: this.count++,
      app: 'test',
      ...(made && { made }),
      ...(draft.arrived && { arrived: true }),
    }
    phone.revisions.set(draft.id, [...all, record])
    return record
  }

  private write(phone: Phone, id: string, part: string, value: unknown): void {
    const knew = phone.knows.get(id) ?? new Set<Written>()
    const one: Written = { part, value: JSON.stringify(value) ?? 'none', knew: new Set(knew) }
    phone.knows.set(id, new Set([...knew, one]))
    const all = this.written.get(id) ?? new Set()
    this.written.set(id, all.add(one))
  }

  /** An edit drawn and made on a phone. */
  edit(phone: Phone): void {
    const { draw } = this
    const living = this.current(phone).filter(r => !r.deleted)
    const sightings = living.filter(r => r.kind === 'sighting')
    const station = living.find(r => r.kind === 'station')
    const what = draw.whole(0, 11)
    this.figures.edits++
    phone.undoable = null
    const save = (record: StoredRecord, part: string, value: unknown, body: unknown) => {
      this.put(phone, { id: record.id, kind: record.kind, station: record.station, body })
      this.write(phone, record.id, part, value)
    }
    if (what <= 3 && sightings.length > 0) {
      const record = draw.one(sightings)
      const field = draw.one(['lower', 'upper', 'note'])
      const value = field === 'note' ? draw.one(['x', 'y', undefined]) : draw.whole(1, 3)
      const { [field]: was, ...rest } = record.body as Record<string, unknown>
      if (was !== value) save(record, field, value, value === undefined ? rest : { ...rest, [field]: value })
    } else if (what === 4 && sightings.length > 0) {
      const record = draw.one(sightings)
      this.put(phone, { id: record.id, kind: record.kind, station: record.station, body: record.body, deleted: true })
      this.write(phone, record.id, WHOLE, 'deleted')
    } else if (what === 5) {
      const gone = this.current(phone).filter(
        r => r.kind === 'sighting' && r.deleted && (r.body as { utc?: string }).utc,
      )
      if (gone.length === 0) return
      const record = draw.one(gone)
      const feeds = (station?.body as { feeds?: { id: string }[] } | undefined)?.feeds ?? []
      if (!feeds.some(f => f.id === (record.body as { feed: string }).feed)) return
      this.put(phone, { id: record.id, kind: record.kind, station: record.station, body: record.body, deleted: false })
      this.write(phone, record.id, WHOLE, record.body)
    } else if (what === 6 && station) {
      const feeds = (station.body as { feeds: { id: string }[] }).feeds
      const body = sighting(`new${this.count}`, draw.one(feeds).id)
      const id = recordId('sighting', STATION, body.id)
      this.put(phone, { id, kind: 'sighting', station: STATION, place: 9, body })
      this.write(phone, id, WHOLE, body)
    } else if (what <= 9 && station) {
      const body = station.body as Record<string, unknown>
      const field = draw.one(['notes', 'heightM', 'echoLossDb', 'minReading'])
      const n = draw.whole(1, 3)
      const [lower, site] = [(body.mount as { lower: object }).lower, body.site as object]
      const next =
        field === 'notes'
          ? { ...body, notes: `n${n}` }
          : field === 'heightM'
            ? { ...body, site: { ...site, heightM: n } }
            : field === 'echoLossDb'
              ? { ...body, tolerance: { echoLossDb: n } }
              : { ...body, mount: { ...(body.mount as object), lower: { ...lower, minReading: -n } } }
      if (JSON.stringify(next) !== JSON.stringify(body)) save(station, field, partOf(next, field), next)
    } else if (station) {
      // Feeds come and go; a phone lets only one go that nothing here names.
      const body = station.body as { feeds: { id: string; name: string }[] }
      const name = draw.one(['b', 'c'])
      const there = body.feeds.some(f => f.id === name)
      if (!there) {
        const feed = { id: name, name: `feed ${draw.whole(1, 2)}`, frequencyMHz: 1296 }
        save(station, `feed ${name}`, feed, { ...body, feeds: [...body.feeds, feed] })
      } else if (!sightings.some(s => (s.body as { feed?: string }).feed === name))
        save(station, `feed ${name}`, undefined, { ...body, feeds: body.feeds.filter(f => f.id !== name) })
    }
  }

  /** The station thrown away whole, or brought back whole. */
  throwAway(phone: Phone): void {
    phone.undoable = null
    const all = this.current(phone)
    if (all.find(r => r.kind === 'station')?.deleted !== false) return
    for (const record of all.filter(r => !r.deleted)) {
      this.put(phone, { id: record.id, kind: record.kind, station: record.station, body: record.body, deleted: true })
      this.write(phone, record.id, WHOLE, 'deleted')
    }
  }

  text(phone: Phone): string {
    return writeFieldBook(bookForFile(this.current(phone), '2026-05-01T00:00:00Z'))
  }

  /** @returns whether anything was written */
  exchange(from: Phone, to: Phone): boolean {
    this.figures.exchanges++
    return this.bring(to, this.text(from), from)
  }

  private bring(phone: Phone, text: string, from?: Phone): boolean {
    const read = readFieldBook(text)
    if (!read.ok) throw new Error(`an export that cannot come in: ${JSON.stringify(read.faults.slice(0, 3))}`)
    const current = this.current(phone)
    let forced: ReadonlySet<string> = new Set()
    for (let tries = 0; tries < 12; tries++) {
      const plan = planFor(current, read.value, { forced })
      const sides: Record<string, 'mine' | 'theirs'> = {}
      for (const conflict of asked(plan))
        for (const ask of conflict.asks) sides[choiceKey(conflict.id, ask.part)] = this.draw.one(['mine', 'theirs'])
      const choices: Choices = { sides, deleted: null }
      if (openChoices(plan, choices) > 0) throw new Error('a choice that cannot be made')
      const arrivals = arrivalsFor(plan, choices)
      const faults = arrivals.length === 0 ? [] : faultsAfter(current, arrivals)
      if (faults.length > 0) {
        forced = recordsAtFault(current, plan, faults, choices)
        continue
      }
      if (from) this.account(phone, from, arrivals, current)
      this.figures.asked += Object.keys(sides).length
      this.figures.together += plan.together.length
      this.figures.removed += plan.removed.length
      const before = new Map(arrivals.map(a => [a.id, phone.revisions.get(a.id) ?? []]))
      if (!from || arrivals.length > 0) phone.undoable = from ? { before, knew: this.knewBefore! } : null
      for (const { revision: _, ...draft } of arrivals) this.put(phone, draft)
      return arrivals.length > 0
    }
    this.figures.refused++
    return false
  }

  private knewBefore: Map<string, Set<Written>> | null = null

  /** Both sides' edits are known now; what stands after the answers was decided by somebody who knew them. */
  private account(
    phone: Phone,
    from: Phone,
    arrivals: readonly { id: string; body: unknown; deleted?: boolean }[],
    current: readonly StoredRecord[],
  ): void {
    this.knewBefore = new Map([...phone.knows].map(([id, set]) => [id, new Set(set)]))
    const was = new Map(current.map(r => [r.id, r]))
    for (const [id, theirs] of from.knows) {
      const mine = phone.knows.get(id) ?? new Set<Written>()
      const there = from.revisions.get(id)?.at(-1)
      const arrival = arrivals.find(a => a.id === id)
      const now = arrival ?? was.get(id)
      // Where standing edits on both sides agree nothing is asked; a part decided against one of them is an edit.
      phone.knows.set(id, new Set([...mine, ...theirs]))
      if (!now || !there) continue
      const standing = (known: ReadonlySet<Written>, part: string) =>
        [...known].filter(w => w.part === part && ![...known].some(o => covers(o, w)))
      const parts = new Set([...mine, ...theirs].map(w => w.part))
      const isDeleted = now.deleted ?? false
      const live = [...parts].flatMap(part => standing(phone.knows.get(id)!, part))
      const deletions = live.filter(w => w.part === WHOLE && w.value === '"deleted"')
      const others = live.filter(w => !deletions.includes(w))
      if (deletions.length > 0 && others.length > 0) {
        // Asked as a whole.
        this.write(phone, id, WHOLE, isDeleted ? 'deleted' : now.body)
        continue
      }
      if (isDeleted !== deletions.length > 0 && live.length > 0) {
        // Its station went, or stayed, with all that belongs to it.
        this.write(phone, id, WHOLE, isDeleted ? 'deleted' : now.body)
        continue
      }
      for (const part of parts) {
        if (part === WHOLE || isDeleted) continue
        const values = standing(phone.knows.get(id)!, part)
        const value = JSON.stringify(partOf(now.body, part)) ?? 'none'
        const disagree = new Set(values.map(w => w.value)).size > 1
        const isOverruled = values.length > 0 && values.every(w => w.value !== value)
        if (disagree || isOverruled) this.write(phone, id, part, partOf(now.body, part))
      }
    }
    for (const { id, body, deleted } of arrivals) {
      const mine = phone.knows.get(id)
      if (from.knows.has(id) || !mine) continue
      if ((deleted ?? false) !== (was.get(id)?.deleted ?? false))
        this.write(phone, id, WHOLE, deleted ? 'deleted' : body)
      else {
        // A part taken back to what it was in the file, by an answer.
        for (const part of new Set([...mine].map(w => w.part)))
          if (part !== WHOLE && JSON.stringify(partOf(body, part)) !== JSON.stringify(partOf(was.get(id)?.body, part)))
            this.write(phone, id, part, partOf(body, part))
      }
    }
  }

  /** The last bringing in taken back, as the store does it. */
  undo(phone: Phone): void {
    if (phone.undoable === null) return
    this.figures.undone++
    for (const [id, before] of phone.undoable.before) {
      const now = phone.revisions.get(id)!.at(-1)!
      const old = before.at(-1)
      const made = madeOnUndo(now, old)
      const { body, deleted } = old ?? { body: now.body, deleted: true }
      this.put(phone, { id, kind: now.kind, station: now.station, body, deleted, ...(made && { made }) })
    }
    phone.knows = phone.undoable.knew
    // What was decided in it is undecided again, where nobody has heard of it.
    for (const [id, all] of this.written)
      for (const one of all) if (!this.phones.some(p => p.knows.get(id)?.has(one))) all.delete(one)
    phone.undoable = null
  }

  /** Everybody hands to everybody, until nobody has anything new. @returns false when that never ends */
  settleAll(): boolean {
    for (let round = 0; round < 12; round++) {
      let isNews = false
      for (const from of this.phones)
        for (const to of this.phones) if (from !== to && this.exchange(from, to)) isNews = true
      if (!isNews) return true
    }
    return false
  }

  /** What a phone holds, without order. */
  content(phone: Phone): string {
    const whole = this.current(phone)
      .filter(r => !r.deleted)
      .map(r => [r.id, strip(r)])
    return JSON.stringify(whole.sort(([a], [b]) => (a! < b! ? -1 : 1)))
  }

  /** Edits that are gone though nobody decided against them. */
  lost(): string[] {
    const lost: string[] = []
    const phone = this.phones[0]!
    for (const [id, all] of this.written) {
      const record = phone.revisions.get(id)?.at(-1)
      const standing = [...all].filter(w => ![...all].some(o => covers(o, w)))
      for (const { part, value } of standing) {
        if (!record) {
          lost.push(`${id} is not there`)
          continue
        }
        if (part === WHOLE) {
          if ((value === '"deleted"') !== record.deleted)
            lost.push(`${id}: ${value.slice(0, 9)}, and yet it is ${record.deleted ? 'gone' : 'there'}`)
          continue
        }
        if (record.deleted) lost.push(`${id} ${part}: written ${value}, deleted by somebody who did not know`)
        else if (value !== (JSON.stringify(partOf(record.body, part)) ?? 'none'))
          lost.push(`${id} ${part}: written ${value}, stands ${JSON.stringify(partOf(record.body, part))}`)
      }
    }
    return lost
  }
}

/** Whether `later` decided over `earlier`: it wrote the same part, or all of it, and knew. */
const covers = (later: Written, earlier: Written): boolean =>
  later !== earlier && later.knew.has(earlier) && (later.part === earlier.part || later.part === WHOLE)

const sighting = (id: string, feed: string) => ({
  id,
  utc: '2026-05-01T00:00:00Z',
  target: { type: 'sun' },
  lower: 10,
  upper: 20,
  method: 'signal-peak',
  feed,
})

function partOf(body: unknown, part: string): unknown {
  // biome-ignore lint/suspicious/noExplicitAny: a body of any kind
  const b = body as any
  if (part === 'heightM') return b?.site?.heightM
  if (part === 'echoLossDb') return b?.tolerance?.echoLossDb
  if (part === 'minReading') return b?.mount?.lower?.minReading
  if (part.startsWith('feed ')) return b?.feeds?.find((f: { id: string }) => f.id === part.slice(5))
  return b?.[part]
}

/** Without numbers, and keys in order. */
function strip(record: StoredRecord): unknown {
  const sorted = (x: unknown): unknown =>
    Array.isArray(x)
      ? x.map(sorted)
      : typeof x === 'object' && x !== null
        ? Object.fromEntries(
            Object.entries(x)
              .filter(([key]) => key !== 'revision')
              .sort(([a], [b]) => (a < b ? -1 : 1))
              .map(([key, value]) => [key, sorted(value)]),
          )
        : x
  return sorted(record.body)
}

/** One drawn history from its beginning to where all agree. @returns what went wrong, or nothing */
export function drawnHistory(draw: Chance, most = 16): { wrong: string[]; figures: Figures } {
  const history = new History(draw.whole(2, 3), draw)
  const { phones } = history
  for (let step = draw.whole(4, most); step > 0; step--) {
    const kind = draw.whole(0, 19)
    if (kind < 12) history.edit(draw.one(phones))
    else if (kind < 18) {
      const from = draw.one(phones)
      history.exchange(from, draw.one(phones.filter(p => p !== from)))
    } else if (kind < 19) history.undo(draw.one(phones))
    else if (draw.next() < 0.3) history.throwAway(draw.one(phones))
  }
  const wrong: string[] = []
  if (!history.settleAll()) wrong.push('never settled')
  const contents = new Set(phones.map(p => history.content(p)))
  if (contents.size > 1) wrong.push(`ends differ: ${[...contents].join('\n')}`)
  const before = history.figures.asked
  for (const from of phones)
    for (const to of phones)
      if (from !== to && history.exchange(from, to)) wrong.push('a second hand-over writes again')
  if (history.figures.asked > before) wrong.push('asked again')
  wrong.push(...history.lost())
  return { wrong, figures: history.figures }
}

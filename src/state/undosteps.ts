/**
 * The steps that can be undone, the last one first, and those undone that can be redone: each with what it
 * wrote, and what was there before. A new step drops what could be redone.
 */
import { batch, computed, type ReadonlySignal, signal } from '@preact/signals'
import type { Draft, StoredRecord } from '../core/records/stored.ts'
import type { Wanted } from '../store/records.ts'
import type { UndoStep } from './steps.ts'

/** Back to what was there before, or forward to what the step wrote. */
export type UndoWay = 'back' | 'forth'

interface Taken {
  step: UndoStep
  /** Stations whose records it wrote. */
  stations: readonly string[]
  news: readonly StoredRecord[]
  /** What was there before; nothing where the record was new. */
  before: readonly (StoredRecord | undefined)[]
}

/** A step that `undo` or `redo` would take, with the stations that it affects. */
export interface StepAt {
  step: UndoStep
  stations: readonly string[]
}

const MOST = 50

export interface UndoSteps {
  last: ReadonlySignal<StepAt | null>
  /** The step that was undone last. */
  again: ReadonlySignal<StepAt | null>
  /** @param news  what was written. @param before  what stood there, one for each */
  add(step: UndoStep, news: readonly StoredRecord[], before: readonly (StoredRecord | undefined)[]): void
  /** The revisions that the next step that way wants, and those records as they would be written. */
  next(
    way: UndoWay,
    known: (id: string) => StoredRecord | undefined,
  ): { wanted: readonly Wanted[]; drafts: Draft[]; taken: Taken } | null
  /** Call when it is done. @param written  as the store wrote it; null: another tab was ahead, and the step is forgotten */
  done(way: UndoWay, taken: Taken, written: readonly StoredRecord[] | null): void
  forgetAll(): void
}

export function createUndoSteps(): UndoSteps {
  const steps = signal<readonly Taken[]>([])
  const undone = signal<readonly Taken[]>([])
  /** The revision that now has an older one's content, by "id revision": undoing writes a revision of its own. */
  const stands = new Map<string, number>()
  const standing = (id: string, revision: number): number => {
    const later = stands.get(`${id} ${revision}`)
    return later === undefined ? revision : standing(id, later)
  }
  const of = { back: steps, forth: undone } as const
  const at = (taken: Taken | undefined): StepAt | null => taken ?? null
  const before = ({ news }: Taken, index: number) => news[index]!.revision - 1
  return {
    last: computed(() => at(steps.value.at(-1))),
    again: computed(() => at(undone.value.at(-1))),
    add(step, news, before) {
      if (news.length === 0) return
      const stations = [...new Set(news.map(record => record.station))]
      batch(() => {
        steps.value = [...steps.value, { step, stations, news, before }].slice(-MOST)
        undone.value = []
      })
    },
    next(way, known) {
      const taken = of[way].value.at(-1)
      if (!taken) return null
      const { news } = taken
      const wanted = news.map(({ id, revision }, index) =>
        way === 'back'
          ? { id, revision: before(taken, index), expect: standing(id, revision) }
          : { id, revision, expect: standing(id, before(taken, index)) },
      )
      const drafts = news.flatMap((fresh, index): Draft[] => {
        if (way === 'forth') return [fresh]
        const now = known(fresh.id)
        const old = taken.before[index]
        return old ? [old] : now ? [{ ...now, deleted: true }] : []
      })
      return { wanted, drafts, taken }
    },
    done(way, taken, written) {
      const other = way === 'back' ? undone : steps
      batch(() => {
        of[way].value = of[way].value.filter(one => one !== taken)
        if (written === null) return
        other.value = [...other.value, taken]
        for (const [index, { id, revision }] of written.entries())
          stands.set(`${id} ${way === 'back' ? before(taken, index) : taken.news[index]!.revision}`, revision)
      })
    },
    forgetAll() {
      batch(() => {
        steps.value = []
        undone.value = []
        stands.clear()
      })
    },
  }
}

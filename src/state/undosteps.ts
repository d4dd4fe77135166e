/** The steps that can be taken back, the last one first: each with what it wrote, and what was there before. */
import { computed, type ReadonlySignal, signal } from '@preact/signals'
import type { Draft, StoredRecord } from '../core/records/stored.ts'
import type { Wanted } from '../store/records.ts'
import type { Step } from './steps.ts'

interface Taken {
  step: Step
  wanted: readonly Wanted[]
  /** What was there before; nothing where the record was new. */
  before: readonly (StoredRecord | undefined)[]
}

const MOST = 50

export interface UndoSteps {
  last: ReadonlySignal<Step | null>
  /** @param news  what was written. @param before  what stood there, one for each */
  add(step: Step, news: readonly StoredRecord[], before: readonly (StoredRecord | undefined)[]): void
  /** What the last step wants back, and those records as they would be written. */
  next(
    known: (id: string) => StoredRecord | undefined,
  ): { wanted: readonly Wanted[]; back: Draft[]; taken: Taken } | null
  /** It is taken back. @param written  as the store wrote it; null: another tab was ahead, and the step is forgotten */
  done(taken: Taken, written: readonly StoredRecord[] | null): void
  forgetAll(): void
}

export function createUndoSteps(): UndoSteps {
  const steps = signal<readonly Taken[]>([])
  return {
    last: computed(() => steps.value.at(-1)?.step ?? null),
    add(step, news, before) {
      const wanted = news.map(({ id, revision }) => ({ id, revision: revision - 1, expect: revision }))
      if (wanted.length > 0) steps.value = [...steps.value, { step, wanted, before }].slice(-MOST)
    },
    next(known) {
      const taken = steps.value.at(-1)
      if (!taken) return null
      const { wanted, before } = taken
      const back = wanted.flatMap(({ id }, index): Draft[] => {
        const now = known(id)
        const old = before[index]
        return old ? [old] : now ? [{ ...now, deleted: true }] : []
      })
      return { wanted, back, taken }
    },
    done(taken, written) {
      const rest = steps.value.filter(other => other !== taken)
      // The revision just written says what an older one said: steps below that expect the older one now expect it.
      const now = new Map<string, number>(
        written === null
          ? []
          : taken.wanted.map(({ id, revision }, index) => [`${id} ${revision}`, written[index]!.revision] as const),
      )
      steps.value = rest.map(other => ({
        ...other,
        wanted: other.wanted.map(w => ({ ...w, expect: now.get(`${w.id} ${w.expect}`) ?? w.expect! })),
      }))
    },
    forgetAll() {
      steps.value = []
    },
  }
}

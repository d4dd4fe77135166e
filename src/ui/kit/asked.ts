/** What a screen asks and nothing stores: the latest answer, kept on the screen while a newer one is on its way. */
import { useEffect, useMemo, useState } from 'preact/hooks'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { type Told, valueTold } from '../../state/ask.ts'

interface AskedFor<T> {
  /** The last answer; null: none yet. */
  told: Told<T>
  /** Its value; null also where nothing could be said. */
  value: T | null
  /** The answer to the present question is still on its way. */
  asking: boolean
}

/** @param key  what the question depends on; null: nothing is asked, and nothing is shown */
export function useAsked<T>(key: string | null, ask: () => Promise<Told<T>>): AskedFor<T> {
  const [got, setGot] = useState<{ key: string; told: Told<T> } | null>(null)
  useEffect(() => {
    if (key === null) return
    let dropped = false
    void ask().then(told => {
      // Overtaken by another screen's question: the earlier answer stays.
      if (!dropped) setGot(before => ({ key, told: told ?? before?.told ?? null }))
    })
    return () => {
      dropped = true
    }
  }, [key])
  if (key === null) return { told: null, value: null, asking: false }
  const told = got?.told ?? null
  return { told, value: valueTold(told), asking: got?.key !== key }
}

/** Everything in a station that its solution depends on, as one text: a part of a question's key. */
export const useSolveKey = (s: StationRecord): string =>
  useMemo(
    () =>
      JSON.stringify([
        s.id,
        s.site,
        s.dish,
        s.feeds,
        s.mount,
        s.tolerance,
        s.horizonMask,
        s.priors,
        s.changes,
        s.references,
        s.sightings,
        s.levels,
      ]),
    [s],
  )

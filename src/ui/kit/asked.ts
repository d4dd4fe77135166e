/** What a screen has asked and not stored: the latest answer, kept on the screen while a newer one is on its way. */
import { useEffect, useMemo, useState } from 'preact/hooks'
import type { StationRecord } from '../../core/records/fieldbook.ts'

export interface AskedFor<T> {
  /** Null: nothing has come yet, or nothing could be said. */
  value: T | null
  /** The answer to the present question is still on its way. */
  asking: boolean
}

/** @param key  what the question depends on; null: nothing is asked, and nothing is shown */
export function useAsked<T>(key: string | null, ask: () => Promise<T | null>): AskedFor<T> {
  const [got, setGot] = useState<{ key: string; value: T | null } | null>(null)
  useEffect(() => {
    if (key === null) return
    let dropped = false
    void ask().then(value => {
      if (!dropped) setGot({ key, value })
    })
    return () => {
      dropped = true
    }
  }, [key])
  if (key === null) return { value: null, asking: false }
  return { value: got?.value ?? null, asking: got?.key !== key }
}

/** All of a station that its solution follows from, as one text: a part of a question's key. */
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

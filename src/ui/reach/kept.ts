/** The one form of "Will it reach?", kept over a reload; its answers. */
import type { WillReachJson } from '../../core/plan/willreachjson.ts'
import { fieldBook } from '../../state/book.ts'
import { now } from '../../state/now.ts'
import { askReach } from '../../state/reach.ts'
import { useAsked } from '../kit/asked.ts'
import { useKept } from '../kit/keptany.ts'
import { emptyReachForm, formOfStation, type ReachRead, readReach } from './form.ts'
import type { ReachForm, Which } from './typed.ts'

/** Begins with the values of the station in use, where there is one. */
const begun = (): ReachForm => {
  const station = fieldBook.station.peek()
  return station === null ? emptyReachForm() : formOfStation(station)
}

export const useReachForm = (): [ReachForm, (next: ReachForm) => void] => {
  const [form, setForm] = useKept<ReachForm>('reach', begun)
  return [form, next => setForm(next)]
}

export const yearNow = (): number => new Date(now.peek()).getUTCFullYear()

interface Reached {
  read: ReachRead
  value: WillReachJson | null
  asking: boolean
  failed: string | null
}

/** @param isAsked  false: the second mount is not wanted */
export function useReach(form: ReachForm, which: Which, isAsked = true): Reached {
  const read = readReach(form, which, yearNow())
  const { value, told, asking } = useAsked(read.ok && isAsked ? JSON.stringify(read.wish) : null, () =>
    // Only asked where there is a wish.
    askReach((read as Extract<ReachRead, { ok: true }>).wish, which),
  )
  return { read, value, asking, failed: told?.kind === 'failed' ? told.message : null }
}

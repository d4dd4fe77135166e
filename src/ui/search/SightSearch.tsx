/** First search: before it begins, while it runs, and once the Sun was heard. */
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { isoOf, takeUtc, trueNow } from '../../state/ask.ts'
import { feedHere } from '../../state/chosenfeed.ts'
import { askSearch } from '../../state/search.ts'
import { useAsked, useSolveKey } from '../kit/asked.ts'
import { useKept } from '../kit/keptany.ts'
import { MORE_WAYS } from '../kit/moreways.ts'
import { Notice } from '../kit/Notice.tsx'
import { Sentence } from '../kit/numbers.tsx'
import { SunFrame } from '../kit/shadow/parts.tsx'
import { emptySearch, type SearchForm, secondsOf } from './form.ts'
import { SearchHeard } from './SearchHeard.tsx'
import { SearchRun } from './SearchRun.tsx'
import { SearchStart } from './SearchStart.tsx'
import { SEARCH } from './words.ts'

/** Before it begins the plan is for about now. */
const ABOUT_MS = 600_000

export function SightSearch({ station }: { station: StationRecord }) {
  const [form, setForm] = useKept<SearchForm>(`search.${station.id}`, emptySearch)
  const set = (change: Partial<SearchForm>) => setForm(before => ({ ...before, ...change }))
  const feed = station.feeds.find(f => f.id === form.feed)?.id ?? feedHere(station)
  const isRunning = form.startedUtc !== ''
  const startedUtc = isRunning ? form.startedUtc : isoOf(Math.floor(trueNow.value / ABOUT_MS) * ABOUT_MS)
  const about = { feed, startedUtc, secondsEach: secondsOf(form) }
  const heard = station.sightings.find(s => s.id === form.heard)
  const solve = useSolveKey(station)
  const key = heard ? null : `${solve} ${JSON.stringify(about)}`
  const { told, value: plan, asking } = useAsked(key, () => askSearch(station, about))
  if (heard) return <SearchHeard station={station} form={form} set={set} sighting={heard} />
  if (plan === null || (asking && isRunning && plan.startedUtc !== startedUtc))
    return (
      <SunFrame station={station} title={MORE_WAYS.search}>
        {told?.kind === 'failed' && !asking ? (
          <Notice state="stop">
            {SEARCH.failed} {told.message}
          </Notice>
        ) : (
          <Sentence>{SEARCH.asking}</Sentence>
        )}
      </SunFrame>
    )
  const planned = { station, form, set, plan, feed }
  return isRunning ? (
    <SearchRun {...planned} />
  ) : (
    <SearchStart {...planned} onBegin={() => set({ startedUtc: takeUtc(), feed, at: 0, heard: '' })} />
  )
}

/**
 * How long it takes, warm and with the station solved already, ms, to say what comes next for a station of 13 sightings: worth doing next
 * over three days (goal: 100), the sightings to come with the day to come back, has it moved, the first search. All run off the page's thread.
 */
import { campaign, firstSearch, hasMoved, solve, worth } from '../../src/core/questions.ts'
import { bookOf, drawScene, KINDS, START_MS, sightMany, utcOf } from '../helpers/simulate.ts'

const DAY_MS = 86_400_000
const RUNS = 7

function timesOf(ask: () => unknown) {
  for (let k = 0; k < 2; k++) ask()
  const times = Array.from({ length: RUNS }, () => {
    const t = performance.now()
    ask()
    return performance.now() - t
  }).sort((a, b) => a - b)
  return { leastMs: Math.round(times[0]!), medianMs: Math.round(times[RUNS >> 1]!) }
}

export default () =>
  Object.fromEntries(
    KINDS.map(kind => {
      const scene = drawScene(31, { kind, latDeg: 48 })
      const book = bookOf({ ...scene.record, sightings: sightMany(scene, 13, { methods: ['signal-peak'] }) })
      const bare = bookOf({ ...scene.record, sightings: [] })
      const about = { now: utcOf(START_MS + 22 * DAY_MS) }
      solve(book, about)
      return [
        kind,
        {
          worth: timesOf(() => worth(book, about)),
          campaign: timesOf(() => campaign(book, about)),
          hasMoved: timesOf(() => hasMoved(book, about)),
          firstSearch: timesOf(() => firstSearch(bare, about)),
        },
      ]
    }),
  )

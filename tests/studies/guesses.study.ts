/**
 * Jacks that nobody taped, marked as guesses and not: both arms 15 % off either way, the angle at the pivot up to 50° off.
 * `holds`: the share of stations whose error over the Moon's path stays within what is said with 90 % confidence; `pulled`: the
 * share whose longer arm is more than 2 σ from what is said of it; `statedDeg`, `trueDeg`: medians.
 */
import { type GuessTrial, guessTrial } from '../helpers/guessed.ts'

const STATIONS = 130

const median = (x: readonly number[]): number => Number([...x].sort((a, b) => a - b)[x.length >> 1]!.toFixed(3))
const share = (all: readonly GuessTrial[], is: (t: GuessTrial) => boolean): number =>
  Number((all.filter(is).length / all.length).toFixed(3))

export default async () =>
  Object.fromEntries(
    [true, false].flatMap(marked =>
      [8, 12, 24].map(n => {
        const all = Array.from({ length: STATIONS }, (_, k) => guessTrial(k + 1, n, marked)).filter(t => t !== null)
        return [
          `${marked ? 'marked' : 'taken for taped'}, ${n} sightings`,
          {
            stations: all.length,
            holds: share(all, t => t.trueDeg <= t.statedDeg),
            pulled: share(all, t => Math.abs(t.pulls[0]) > 2),
            statedDeg: median(all.map(t => t.statedDeg)),
            trueDeg: median(all.map(t => t.trueDeg)),
          },
        ]
      }),
    ),
  )

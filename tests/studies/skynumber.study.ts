/**
 * Whether "nine chances in ten that 95 % of your Moon time loses less" is true nine times in ten: 1,000 drawn stations of all
 * mounts and readouts, with levels, changes, play and floors among them, all good and with a quarter of the sightings plain
 * wrong. `p95`, `typical`, `worst` are the shares of stations whose true figure is below the stated one: 0.9, 0.5, 0.9 are
 * meant; `ratio` is the median of stated over true. By mount and by number of sightings; `missed` are the stations in which a
 * wrong sighting was kept.
 */
import { KINDS } from '../helpers/simulate.ts'
import { held, type SkyTrial, skyTrials } from '../helpers/skytrials.ts'

const STATIONS = 1000
const SIZES = [4, 6, 8, 10, 13, 16, 20, 26]

const shares = (trials: readonly SkyTrial[]) => {
  const of = (is: (t: SkyTrial) => boolean) => held(trials.filter(is))
  return {
    all: held(trials),
    byMount: Object.fromEntries(KINDS.map(kind => [kind, of(t => t.kind === kind)])),
    bySightings: Object.fromEntries(SIZES.map(n => [n, of(t => t.n === n)])),
    eightOrMore: of(t => t.n >= 8),
    withChange: of(t => t.hasChange),
    withLevels: of(t => t.hasLevels),
    missed: of(t => t.missed > 0),
  }
}

export default async () => {
  const nOf = (seed: number) => SIZES[seed % SIZES.length]!
  return {
    allGood: shares(skyTrials(STATIONS, 100_000, nOf, 0)),
    aQuarterWrong: shares(skyTrials(STATIONS, 100_000, nOf, 0.25)),
  }
}

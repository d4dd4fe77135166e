/**
 * How the fit compares with a fit told which sightings are wrong, over many invented stations: 8 sightings, 12 to 20, 26;
 * all good, and a quarter plain wrong. `clear` leaves out stations with a wrong sighting that even the told fit would not
 * put 8 σ away, its own σ included: there nobody can tell. Ratios are of pooled pointing rms over the Moon's path.
 */
import { pooled, type Trial, trials } from '../helpers/paired.ts'
import { KINDS } from '../helpers/simulate.ts'

const STATIONS = 400

const rounded = (list: readonly Trial[]) =>
  Object.fromEntries(Object.entries(pooled(list)).map(([k, v]: [string, number]) => [k, Number(v.toFixed(4))]))

export default async () => {
  const out: Record<string, unknown> = {}
  const sizes: [string, (seed: number) => number][] = [
    ['8', () => 8],
    ['12 to 20', seed => 12 + (seed % 9)],
    ['26', () => 26],
  ]
  for (const [name, nOf] of sizes) {
    const good = trials(STATIONS, 20_000, nOf, 0)
    const spoilt = trials(STATIONS, 20_000, nOf, 0.25)
    out[`${name} sightings`] = {
      allGood: rounded(good),
      aQuarterWrong: rounded(spoilt),
      aQuarterWrongClear: rounded(spoilt.filter(t => t.doubtful === 0)),
      coverageByKind: Object.fromEntries(
        KINDS.map(kind => [kind, Number(pooled(good.filter(t => t.kind === kind)).coverage.toFixed(3))]),
      ),
    }
  }
  return out
}

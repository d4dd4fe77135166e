/**
 * The check after a storm: how often it is right. Stations of every kind, sighted for three weeks before; then a storm that moves nothing,
 * or one thing (five in six), or two, from a third of the tolerance to thirty times it over the Moon's sky; then what was done.
 * `falseNothing`: "nothing moved" with a real move beyond the tolerance, of all that moved beyond it. `falseMoved`: "moved" on a station
 * that stood still. `nothing`: how often "nothing moved" is said where nothing moved.
 */
import { chance } from '../helpers/random.ts'
import { KINDS } from '../helpers/simulate.ts'
import { asPlanned, calmStation, drawStorm, said, since, sunTimes } from '../helpers/stormtrials.ts'

const share = (a: number, b: number) => (b === 0 ? null : Number((a / b).toFixed(3)))

export async function stormRates(stations: number, storms: number, peak: number) {
  const out: Record<string, Record<string, unknown>> = {}
  for (const kind of KINDS) {
    const ways = ['one peak', 'peak and shadow', 'three peaks and shadow', 'as planned'] as const
    const n = Object.fromEntries(
      ways.map(w => [
        w,
        {
          still: 0,
          falseMoved: 0,
          nothing: 0,
          beyond: 0,
          falseNothing: 0,
          moved: 0,
          right: 0,
          among: 0,
          misnamed: 0,
          part: 0,
          odd: 0,
          sightings: 0,
          plans: 0,
        },
      ]),
    )
    for (let k = 0; k < stations; k++) {
      const calm = calmStation(7000 + 97 * k + KINDS.indexOf(kind), kind, peak)
      const c = chance(3100 * KINDS.indexOf(kind) + 31 * k + 5)
      for (let j = 0; j < storms; j++) {
        const still = j % 2 === 0
        const storm = drawStorm(c, calm, still)
        const times = sunTimes(calm, 3, 3)
        const sigmaDeg = peak * calm.hpbwDeg
        const peakAt = (ms: number) => ({ ms, target: 'sun' as const, method: 'signal-peak' as const, sigmaDeg })
        const shadowAt = (ms: number) => ({ ms: ms + 60_000, target: 'sun' as const, method: 'shadow' as const })
        if (times.length === 0) continue
        for (const way of ways) {
          const r = n[way]!
          const first = times[0]!
          const planned = way === 'as planned' ? asPlanned(calm, storm, peak) : null
          const wishes =
            way === 'one peak'
              ? [peakAt(first)]
              : way === 'peak and shadow'
                ? [peakAt(first), shadowAt(first)]
                : [...times.map(peakAt), shadowAt(first)]
          const list = way === 'as planned' ? [] : since(calm, storm, wishes)
          if (way !== 'as planned' && list.length === 0) continue
          const s = way === 'as planned' ? planned?.said : said(calm, list)
          if (!s) continue
          const { check } = s
          if (planned) {
            r.sightings += planned.sightings
            r.plans++
          }
          if (check.why === 'odd-one') r.odd++
          if (still) {
            r.still++
            if (check.verdict === 'moved') r.falseMoved++
            if (check.verdict === 'nothing-moved') r.nothing++
            continue
          }
          if (storm.size > 1) {
            r.beyond++
            if (check.verdict === 'nothing-moved') {
              r.falseNothing++
            }
          }
          if (check.verdict === 'moved') {
            r.moved++
            const wanted = [...storm.kinds].sort().join()
            // A mast that turned and an azimuth zero that slipped are one thing on el-over-az.
            const is = (e: (typeof check.explanations)[number]) => {
              const got = [...e.kinds].sort().join()
              return got === wanted || (kind === 'el-over-az' && wanted === 'mount' && got === 'lower-zero')
            }
            // Of two things the larger is often all that shows.
            const isPart = (e: (typeof check.explanations)[number]) =>
              storm.kinds.length > 1 && e.kinds.some(k => storm.kinds.includes(k))
            if (check.explanations.some(isPart) && !check.explanations.some(is)) {
              r.part++
              continue
            }
            if (is(check.explanations[0]!)) r.right++
            else if (check.explanations.some(is)) r.among++
            else {
              r.misnamed++
              if (process.env.SHOW)
                console.error(
                  kind,
                  way,
                  wanted,
                  storm.size.toFixed(1),
                  check.isExplained,
                  check.explanations
                    .map(e => `${e.kinds.join('+')} ${e.evidence.toFixed(1)} left ${e.leftChi2.toFixed(1)}`)
                    .join('; '),
                )
            }
          }
        }
      }
    }
    for (const way of ways) {
      const r = n[way]!
      out[`${kind}, ${way}`] = {
        still: r.still,
        falseMoved: share(r.falseMoved, r.still),
        nothing: share(r.nothing, r.still),
        beyond: r.beyond,
        falseNothing: share(r.falseNothing, r.beyond),
        moved: r.moved,
        right: share(r.right, r.moved),
        among: share(r.among, r.moved),
        onlyOneOfTwo: share(r.part, r.moved),
        misnamed: share(r.misnamed, r.moved),
        odd: r.odd,
        ...(r.plans > 0 && { sightings: Number((r.sightings / r.plans).toFixed(1)) }),
      }
    }
    console.error(JSON.stringify(out[`${kind}, as planned`]), JSON.stringify(out[`${kind}, three peaks and shadow`]))
  }
  return out
}

export default async () => {
  const n = Number(process.env.STATIONS ?? 40)
  const m = Number(process.env.STORMS ?? 10)
  return {
    'peaks to 0.03 of the beam': await stormRates(n, m, 0.03),
    'peaks to 0.1 of the beam': await stormRates(Math.ceil(n / 4), m, 0.1),
  }
}

/** Programs that are wrong in a known way, drawn: what a person would type from them, and what is made of it. */
import { checkProgram, type PlaceShown, type ProgramCause, type ProgramVerdict } from '../../src/core/check/program.ts'
import { bodyEarthFixed, instantAt } from '../../src/core/sky/almanac.ts'
import { enuFromEarthFixed, siteFrame } from '../../src/core/sky/earthfixed.ts'
import type { Site, Target } from '../../src/core/sky/place.ts'
import { defaultAir } from '../../src/core/sky/refraction.ts'
import { airlessPlace, apparentPlace } from '../../src/core/sky/targets.ts'
import { azElFromEnu, unit } from '../../src/core/vectors.ts'
import { DEG } from './degrees.ts'
import { type Chance, chance } from './random.ts'

/** `wrong-place`: 3 to 9 degrees off in both, as no cause makes it. */
export type Fault = 'agrees' | ProgramCause | 'wrong-place'
export const FAULTS: readonly Fault[] = [
  'agrees',
  'clock',
  'longitude-sign',
  'summer-time',
  'geocentric',
  'refraction',
  'azimuth-from-south',
  'wrong-place',
]

interface Drawn {
  site: Site
  target: Target
  shown: PlaceShown[]
}

/** A scene in which the fault can be seen at all: the target up, low for refraction, not overhead for parallax. */
function drawn(c: Chance, fault: Fault, rows: number): Drawn {
  for (;;) {
    const lat = c.between(-60, 65) * DEG
    const site: Site = { lat, lon: c.sign() * c.between(4, 170) * DEG, heightM: 200, air: defaultAir(200) }
    const target: Target = fault === 'geocentric' || c.next() < 0.6 ? { type: 'moon' } : { type: 'sun' }
    const start = Date.UTC(2026, 0, 1) + Math.floor(c.between(0, 365 * 86_400)) * 1000
    const clockS = c.sign() * c.between(150, 800)
    const hour = c.sign() * 3600
    const [east, north] = [c.sign() * c.between(3, 9) * DEG, c.sign() * c.between(3, 9) * DEG]
    const shown: PlaceShown[] = []
    let isFit = true
    for (let k = 0; k < rows; k++) {
      const utcMs = start + k * (fault === 'refraction' ? 240_000 : 5_400_000)
      const truth = apparentPlace(target, utcMs, site, 'radio')
      isFit &&=
        fault === 'refraction' ? truth.el > 1 * DEG && truth.el < 4 * DEG : truth.el > 6 * DEG && truth.el < 68 * DEG
      const at = (ms: number, from = site) => apparentPlace(target, ms, from, 'radio')
      const place = {
        agrees: () => truth,
        clock: () => at(utcMs + 1000 * clockS),
        'longitude-sign': () => at(utcMs, { ...site, lon: -site.lon }),
        'summer-time': () => at(utcMs + 1000 * hour),
        geocentric: () =>
          azElFromEnu(unit(enuFromEarthFixed(bodyEarthFixed('moon', instantAt(utcMs)), siteFrame(site)))),
        refraction: () => azElFromEnu(airlessPlace(target, instantAt(utcMs), siteFrame(site)).direction),
        'azimuth-from-south': () => ({ az: truth.az + Math.PI, el: truth.el }),
        'wrong-place': () => ({ az: truth.az + east / Math.cos(truth.el), el: truth.el + north }),
      }[fault]()
      shown.push({
        utcMs,
        az: place.az + c.normal(0.05 * DEG) / Math.cos(place.el),
        el: place.el + c.normal(0.05 * DEG),
      })
    }
    if (isFit) return { site, target, shown }
  }
}

/** How often each fault got each verdict. @param rows  places typed: hours apart, but minutes for refraction near the horizon */
export function confusion(
  trials: number,
  rows: number,
  seed: number,
): Record<Fault, Partial<Record<ProgramVerdict, number>>> {
  const c = chance(seed)
  return Object.fromEntries(
    FAULTS.map(fault => {
      const counts: Partial<Record<ProgramVerdict, number>> = {}
      for (let k = 0; k < trials; k++) {
        const { site, target, shown } = drawn(c, fault, rows)
        const { verdict } = checkProgram(site, target, shown, 0.06 * DEG)
        counts[verdict] = (counts[verdict] ?? 0) + 1
      }
      return [fault, counts]
    }),
  ) as ReturnType<typeof confusion>
}

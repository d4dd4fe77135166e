/** A tracking program against ours, as JSON: degrees in and out, and the readings where the program has them. */
import { echoLossDb } from '../dish/optics.ts'
import { builtFor } from '../fit/solution.ts'
import type { Solved } from '../fit/solved.ts'
import { aim } from '../mount/aim.ts'
import { type Built, onPaper } from '../mount/slots.ts'
import type { TargetRecord } from '../records/fieldbook.ts'
import { msFromUtc, utcFromMs } from '../records/instant.ts'
import type { Feed } from '../records/station.ts'
import { targetFromRecord } from '../records/stationintake.ts'
import { degFromRad, radFromDeg, type UtcMs } from '../units.ts'
import { enuFromAzEl } from '../vectors.ts'
import { checkProgram, type ProgramVerdict } from './program.ts'

export interface ProgramWish {
  target: TargetRecord
  /** What the program shows, and at which true instant; one at least, two an hour apart tell more. Its readings if it has any. */
  shown: {
    utc: string
    azDeg: number
    elDeg: number
    lower?: number
    upper?: number
    /** Where it is another target than the check's own. */
    target?: TargetRecord
  }[]
  /** Of a typed coordinate, arc; default 0.06: to a tenth of a degree, and what almanacs differ by. */
  sigmaDeg?: number
}

interface ReadingsJson {
  lower: number
  upper: number
}

export interface ProgramJson {
  verdict: ProgramVerdict
  /** What fits, best first; one but for `several`, none for `none`. */
  fits: {
    cause: Exclude<ProgramVerdict, 'several' | 'none'>
    /** The program's time minus the true one; of a clock and of summer time. */
    clockS: number | null
    leftDeg: number
    /** True: it also leaves refraction out. */
    withoutRefraction: boolean
  }[]
  rows: {
    utc: string
    /** Ours, apparent; and the arc between it and theirs. */
    azDeg: number
    elDeg: number
    apartDeg: number
    /** What that costs on own echoes with the feed's beam; beyond half a beamwidth no figure to believe. */
    echoLossDb: number
    /** Ours for this place, with what was solved and by paper alone; null where there is no pose. */
    corrected: ReadingsJson | null
    paper: ReadingsJson | null
    /** The program's readings minus the corrected ones; null where it has none. */
    differ: ReadingsJson | null
  }[]
  /** Of `several`: a later look that would tell them apart, and by how much. */
  telling: { target: TargetRecord; utc: string; apartDeg: number } | null
}

const DEFAULT_SIGMA_DEG = 0.06

export function programJson(solved: Solved, feed: Feed, now: UtcMs, wish: ProgramWish): ProgramJson {
  const { station } = solved
  const { built } = builtFor(solved, now, feed)
  const shown = wish.shown.map(s => ({
    utcMs: msFromUtc(s.utc),
    az: radFromDeg(s.azDeg),
    el: radFromDeg(s.elDeg),
    ...(s.target && { target: targetFromRecord(s.target) }),
  }))
  const sigma = radFromDeg(wish.sigmaDeg ?? DEFAULT_SIGMA_DEG)
  const found = checkProgram(station.site, targetFromRecord(wish.target), shown, sigma)
  const readings = (of: Built, k: number): ReadingsJson | null => {
    const { az, el } = found.ours[k]!
    const reach = aim(station.model, of, 'beam', enuFromAzEl(az, el))
    return reach && { lower: reach.lower, upper: reach.upper }
  }
  return {
    verdict: found.verdict,
    fits: found.fits.map(f => ({
      cause: f.cause,
      clockS: f.clockS,
      leftDeg: degFromRad(f.left),
      withoutRefraction: !f.isAired,
    })),
    rows: wish.shown.map(({ utc, lower, upper }, k) => {
      const corrected = readings(built, k)
      const has = corrected !== null && lower !== undefined && upper !== undefined
      return {
        utc,
        azDeg: degFromRad(found.ours[k]!.az),
        elDeg: degFromRad(found.ours[k]!.el),
        apartDeg: degFromRad(found.apart[k]!),
        echoLossDb: echoLossDb(found.apart[k]!, feed.hpbw),
        corrected,
        paper: readings(onPaper(), k),
        differ: has ? { lower: lower - corrected.lower, upper: upper - corrected.upper } : null,
      }
    }),
    telling: found.telling && {
      target: found.telling.target,
      utc: utcFromMs(found.telling.utcMs),
      apartDeg: degFromRad(found.telling.apart),
    },
  }
}

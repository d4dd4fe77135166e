/** The list of windows as CSV: one row a spell, as the batch command prints it. */
import type { Spell } from '../plan/windows.ts'
import { utcFromMs } from '../records/instant.ts'
import { degFromRad, HOUR_MS } from '../units.ts'
import { csvLines, plainFixed } from './csv.ts'

/** Degrees and hours to four decimals, kilometres whole; declination and distance at the spell's middle, the latter empty where there is none. */
export const windowsCsv = (spells: readonly Spell[]): string =>
  csvLines([
    'inUtc,outUtc,hours,maxElDeg,declinationDeg,distanceKm',
    ...spells.map(s =>
      [
        utcFromMs(s.inMs),
        utcFromMs(s.outMs),
        plainFixed((s.outMs - s.inMs) / HOUR_MS, 4),
        plainFixed(degFromRad(s.highest.el), 4),
        plainFixed(degFromRad(s.middle.declination), 4),
        s.middle.distanceKm === null ? '' : plainFixed(s.middle.distanceKm, 0),
      ].join(','),
    ),
  ])

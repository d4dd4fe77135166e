/**
 * What turning an adjuster does to the dish: a screw on an arm, shims on an arm, a shift along a flange; or a number of degrees
 * where no adjuster is described. Set as accurately as by hand. In the parameter's unit, degrees or millimetres.
 */
import type { AdjusterRecord } from '../records/adjusters.ts'
import { DEG } from '../units.ts'
import { idsOfTruth } from './faults.ts'
import type { Paper } from './mount.ts'
import type { Chance } from './seed.ts'

/** The unit of its amount: turns for a screw whose thread is known, millimetres for other adjusters, degrees for none. */
export type AmountUnit = 'turns' | 'mm' | 'deg'
export const amountUnit = (adjuster: AdjusterRecord | null): AmountUnit =>
  adjuster === null ? 'deg' : adjuster.by === 'screw' && adjuster.pitchMm !== undefined ? 'turns' : 'mm'

/** How accurately a hand sets it, 1 σ. Common practice, no source. */
const MET: Readonly<Record<AmountUnit, number>> = { turns: 1 / 60, mm: 0.2, deg: 0.02 }

/** The described adjusters that set something this dish has. */
export const adjustersHere = (paper: Paper, described: readonly AdjusterRecord[]): AdjusterRecord[] => {
  const ids = new Set(idsOfTruth(paper))
  return described.filter(a => ids.has(a.turns) && !a.turns.endsWith('Scale'))
}

/**
 * By how much the parameter grows.
 *
 * @param amount  in the adjuster's unit, + the way that makes the parameter larger; any size
 */
export function alteredBy(adjuster: AdjusterRecord | null, amount: number, c: Chance): number {
  const unit = amountUnit(adjuster)
  const met = amount + c.normal(MET[unit], 2)
  if (adjuster === null) return met
  const mm = unit === 'turns' ? met * adjuster.pitchMm! : met
  if (adjuster.turns.endsWith('Arm')) return mm
  return (adjuster.by === 'flange' ? mm / adjuster.armMm : Math.atan(mm / adjuster.armMm)) / DEG
}

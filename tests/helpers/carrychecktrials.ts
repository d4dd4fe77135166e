/** Pages typed wrong in a known way, drawn: what a person would type of what the program shows, and what is made of it. */
import { type CarriedCheck, checkCarried, type ShownOutput } from '../../src/core/carry/carriedcheck.ts'
import { checkTargetsOf, type TargetsWish } from '../../src/core/carry/checktargets.ts'
import { carriedOf, type Mistake, type MistakeKind } from '../../src/core/carry/mistakes.ts'
import { aimPointAt, outputsBy } from '../../src/core/carry/shown.ts'
import { weighed } from '../../src/core/carry/weighed.ts'
import { add, scale, unit, type Vec3 } from '../../src/core/vectors.ts'
import { carryScene, pageFor, wishesOf } from './carrytrials.ts'
import { type Chance, chance } from './random.ts'
import { KINDS, START_MS, utcOf } from './simulate.ts'

export const CAUSES = [
  'sign',
  'missing',
  'decimal',
  'digit',
  'convention',
  'other-way',
  'axes',
  'nothing',
  'no-aiming',
  'no-law',
  'other-page',
  'row',
] as const satisfies readonly MistakeKind[]

/**
 * Of a slip: `named` alone, `among` several that are named, `number` (the right number, another cause), `other` (only wrong ones),
 * `none` (no single slip), `listed` (agrees, but says that this would not have shown), `harmless` (agrees, and costs next to nothing),
 * `missed` (agrees without a word).
 * Of a page typed right: `agrees`, `agrees in part` (with a list of what would not have shown), `alarm`.
 */
export type Outcome =
  | 'named'
  | 'among'
  | 'number'
  | 'other'
  | 'none'
  | 'listed'
  | 'harmless'
  | 'missed'
  | 'agrees'
  | 'agrees in part'
  | 'alarm'

/** The same slip by another name: a number that was 0 beside its sign, command and reading exchanged. */
const isSame = (a: Pick<Mistake, 'cause' | 'id' | 'axis'>, b: Pick<Mistake, 'cause' | 'id' | 'axis'>): boolean => {
  const turned = (c: MistakeKind) => c === 'convention' || c === 'other-way'
  return (a.cause === b.cause && a.id === b.id && a.axis === b.axis) || (turned(a.cause) && turned(b.cause))
}

function outcomeOf(told: CarriedCheck, slip: Mistake, isHarmful: boolean): Outcome {
  if (told.verdict === 'none') return 'none'
  if (told.verdict === 'agrees') {
    if (!isHarmful) return 'harmless'
    return told.unseen.some(u => isSame(u, slip)) ? 'listed' : 'missed'
  }
  if (isSame(told.fits[0]!, slip) && told.verdict === 'mistake') return 'named'
  if (told.fits.some(f => isSame(f, slip))) return 'among'
  return slip.id !== null && told.fits.some(f => f.id === slip.id) ? 'number' : 'other'
}

export type Tally = Record<MistakeKind | 'right', Partial<Record<Outcome, number>>>

/** @param each  drawn slips of every cause; the pages change from scene to scene @param fine  decimals of degrees that the program shows */
export function checkTally(each: number, seed: number, targets: TargetsWish = 'any', fine = 1): Tally {
  const c = chance(seed)
  const tally = Object.fromEntries([...CAUSES, 'right' as const].map(cause => [cause, {}])) as unknown as Tally
  const count = (cause: keyof Tally): number => Object.values(tally[cause]).reduce((a, n) => a + n, 0)
  const note = (cause: keyof Tally, outcome: Outcome) => {
    tally[cause][outcome] = (tally[cause][outcome] ?? 0) + 1
  }
  for (let scene = 0; scene < 6 * each && [...CAUSES, 'right' as const].some(x => count(x) < each); scene++) {
    const at = carryScene(1000 * seed + scene, { kind: KINDS[scene % 4]! })
    const { answered } = at
    const { station } = answered.solved
    const page = pageFor(at, c.one(wishesOf(at)))
    const known = weighed(answered, page)
    const chosen = checkTargetsOf(answered, page, START_MS, targets, known)
    if (chosen.length === 0) continue
    const shown = (outputs: ReturnType<typeof outputsBy>): ShownOutput[] | null => {
      const rows = chosen.map(t => {
        const look = aimPointAt(station, t.target, START_MS)
        // An almanac's difference and a time marked some seconds late.
        const off = t.target.type === 'landmark' ? 0 : 0.03
        const by: Vec3 = [c.normal(off), c.normal(off), c.normal(off)].map(x => (x * Math.PI) / 180) as unknown as Vec3
        const out = outputs({
          direction: unit(add(look.direction, by)),
          from: site => unit(add(look.from(site), scale(by, 1))),
        })
        if (out === null) return null
        const decimals = { lower: 0, upper: 0 }
        for (const axis of ['lower', 'upper'] as const) decimals[axis] = page.axes[axis].unit === 'counts' ? 0 : fine
        return {
          utc: utcOf(START_MS),
          target: t.target,
          lower: Number(out.lower.toFixed(decimals.lower)),
          upper: Number(out.upper.toFixed(decimals.upper)),
          decimals,
        }
      })
      return rows.includes(null) ? null : (rows as ShownOutput[])
    }
    const right = shown(outputsBy(station, carriedOf(page)))
    if (right !== null && count('right') < each) {
      const told = checkCarried(answered, page, right, known)
      note('right', told.verdict !== 'agrees' ? 'alarm' : told.unseen.length === 0 ? 'agrees' : 'agrees in part')
    }
    for (const cause of CAUSES) {
      if (count(cause) >= each) continue
      const slips = known.mistakes.map((m, k) => ({ m, harmful: known.harmful[k]! })).filter(x => x.m.cause === cause)
      if (slips.length === 0) continue
      const { m, harmful } = pick(c, slips)
      const typed = shown(outputsBy(station, m.carried))
      // A program that shows nothing at all is seen without a check.
      if (typed !== null) note(cause, outcomeOf(checkCarried(answered, page, typed, known), m, harmful))
    }
  }
  return tally
}

/** Each number as likely as any other, whatever its count of digits. */
function pick<T extends { m: Mistake }>(c: Chance, slips: readonly T[]): T {
  const id = c.one([...new Set(slips.map(s => s.m.id))])
  return c.one(slips.filter(s => s.m.id === id))
}

/** Shares of one cause in per cent. */
export const sharesOf = (tally: Tally): Record<string, Record<string, number>> =>
  Object.fromEntries(
    Object.entries(tally).map(([cause, of]) => {
      const all = Object.values(of).reduce((a, n) => a + n, 0)
      return [
        cause,
        {
          drawn: all,
          ...Object.fromEntries(Object.entries(of).map(([k, n]) => [k, Math.round((1000 * n) / all) / 10])),
        },
      ]
    }),
  )

/** Which instants promise most for a hypothesis that holds from one instant on: all are screened, few are looked at. */
import { COST, rejected } from '../reject.ts'
import type { Context } from './context.ts'
import { type Columns, momentsWith } from './linear.ts'
import { type QuickLook, quickLook } from './quicklook.ts'
import { rescueScan, scoreScan } from './scan.ts'

/** The quick look must promise this much (χ²) before a whole fit is spent on a place. */
const HINT = 15
/** The running sums must promise this much (χ²) for a quick look. */
const SCORE_HINT = 12
/** With so few sightings and a bad fit every place gets a quick look. */
const FEW = 60

/**
 * @param members  items in order of time  @param margin  items on either side, at least
 * @returns        places k, best first: members k and later are after the instant
 */
export function likelyPlaces(
  ctx: Context,
  columns: Columns,
  members: readonly number[],
  margin: number,
  most: number,
): { k: number; look: QuickLook }[] {
  const linear = ctx.linear()
  const last = members.length - margin
  if (last < margin) return []
  const wanted = new Map<number, Float64Array>()
  const want = (k: number, weights: Float64Array) => {
    if (k >= margin && k <= last && !wanted.has(k)) wanted.set(k, weights)
  }
  const { soft } = linear
  const hasRejected = rejected(ctx.fit) > 0
  for (const which of hasRejected ? (['kept', 'soft'] as const) : (['kept'] as const)) {
    const scores = scoreScan(linear, columns, linear[which], momentsWith(linear, which), members)
    const places = [...scores.keys()]
      .filter(k => k >= margin && k <= last && scores[k]! >= SCORE_HINT)
      .sort((a, b) => scores[b]! - scores[a]!)
    for (const k of places.slice(0, 3)) want(k, soft)
  }
  if (hasRejected)
    for (const place of rescueScan(linear, columns, members)) {
      if (place.gain < SCORE_HINT) continue
      const k = Math.min(last, Math.max(margin, place.k))
      want(k, soft)
    }
  if (ctx.isDesperate && members.length <= FEW) for (let k = margin; k <= last; k++) want(k, soft)
  const isIn = new Uint8Array(linear.items.length)
  const base = ctx.fit.objective + COST * rejected(ctx.fit)
  const looks: { k: number; look: QuickLook }[] = []
  for (const [k, weights] of wanted) {
    isIn.fill(0)
    for (const at of members.slice(k)) isIn[at] = 1
    const look = quickLook(linear, columns, isIn, weights)
    if (look !== null && (base - look.cost >= HINT || ctx.isBad)) looks.push({ k, look })
  }
  return looks.sort((a, b) => a.look.cost - b.look.cost).slice(0, most)
}

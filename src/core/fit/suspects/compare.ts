/**
 * What the solution suspects, by comparing hypotheses. Each changes the problem in one way, is screened cheaply and fitted
 * where the screen promises something; the best by its penalised objective is named first, those that the measurements
 * cannot tell from it are its rivals. What remains then is looked at again, for a second and independent fault.
 * It accuses; the person decides. Rates of false alarms and of wrong names: tests/studies/suspects.study.ts.
 */
import type { Suspect } from '../../records/solution.ts'
import { degFromRad } from '../../units.ts'
import type { Solved } from '../solved.ts'
import { wrongBodies } from './body.ts'
import { clocks } from './clock.ts'
import { type Context, contextOf, type Explanation, isGood, netGain } from './context.ts'
import { counterSteps } from './counterstep.ts'
import { scalesFar } from './farfrompaper.ts'
import { feedsMoved } from './feedmoved.ts'
import { grossFaults } from './gross.ts'
import { type Half, type HalvesExplanation, markedAlways, twoHalves } from './halves.ts'
import { lostMotion } from './lostmotion.ts'

/** Every hypothesis: a screen, and the fits that it thinks worth making. */
const HYPOTHESES: readonly ((ctx: Context) => Explanation[])[] = [
  counterSteps,
  feedsMoved,
  clocks,
  scalesFar,
  lostMotion,
  wrongBodies,
  grossFaults,
  markedAlways,
  twoHalves,
]

/** What an explanation must be worth beyond its penalty, and what a second one must. */
const EVIDENCE = 10
const EVIDENCE_LATER = 15
/** Explanations within this of the best are not told from it: odds below 100 to 1. */
const MARGIN = 9.2
const MOST = 3

export interface Suspected {
  suspects: Suspect[]
  halves: Half[]
}

/** Faults of a whole book, which leave no place from which to start: fitted from scratch, and before the others. */
const OF_A_BOOK: readonly ((ctx: Context) => Explanation[])[] = [grossFaults, wrongBodies, markedAlways]

/**
 * All explanations, the best first. Where the fit is bad and none of the cheap ones makes it good, the faults of a whole book
 * are fitted from scratch; where they do not help either, everything is.
 */
function explanationsOf(ctx: Context): Explanation[] {
  const isAnswered = (list: readonly Explanation[]) =>
    list.some(e => netGain(e) >= EVIDENCE && isGood(e.problem, e.fit))
  let all = HYPOTHESES.flatMap(h => h(ctx))
  if (ctx.isBad && !isAnswered(all)) {
    const desperate = { ...ctx, isDesperate: true }
    const ofBook = OF_A_BOOK.map(h => h(desperate))
    all = isAnswered(ofBook.flat())
      ? [...all, ...ofBook.flat()]
      : HYPOTHESES.flatMap(h => ofBook[OF_A_BOOK.indexOf(h)] ?? h(desperate))
  }
  return all.sort((a, b) => netGain(b) - netGain(a))
}

const nameOf = (e: Explanation): string => `${e.kind} ${e.suspect.axis ?? e.suspect.feed ?? ''}`

function suspectFrom(best: Explanation, all: readonly Explanation[]): Suspect {
  const seen = new Set([nameOf(best)])
  const rivals = all.filter(e => {
    if (seen.has(nameOf(e)) || netGain(e) < netGain(best) - MARGIN || netGain(e) < EVIDENCE / 2) return false
    seen.add(nameOf(e))
    return true
  })
  return {
    kind: best.kind,
    deltaChi2: best.gain,
    ...best.suspect,
    rivals: rivals.map(e => ({
      kind: e.kind,
      text: e.suspect.text,
      deltaChi2: e.gain,
      ...(e.suspect.axis ? { axis: e.suspect.axis } : {}),
    })),
    ...('halves' in best ? { halves: (best as HalvesExplanation).halves.map(halfJson) } : {}),
  }
}

function halfJson({ name, problem, fit }: Half): NonNullable<Suspect['halves']>[number] {
  const used = problem.sightings.filter((_, k) => fit.kept[k] === 1)
  // Whitened residuals times σ: near enough for a scatter in words.
  const mean = used.reduce((a, s) => a + s.sigma ** 2, 0) / Math.max(1, used.length)
  const data = fit.objective / Math.max(1, used.length)
  return {
    name,
    ids: problem.sightings.map(s => s.record.id),
    objective: fit.objective,
    rmsDeg: degFromRad(Math.sqrt(Math.max(0, mean * data))),
  }
}

/** All that the fit suspects, the best explanation first; and the halves, where two do not fit together. */
export function suspected(solved: Solved): Suspected {
  const { station, whole, problem, fit, foreseen } = solved
  const suspects: Suspect[] = [...foreseen]
  let halves: Half[] = []
  let ctx = contextOf(station, whole, problem, fit)
  for (let round = 0; round < MOST; round++) {
    const all = explanationsOf(ctx)
    const [best] = all
    if (best === undefined || netGain(best) < (suspects.length === 0 ? EVIDENCE : EVIDENCE_LATER)) break
    suspects.push(suspectFrom(best, all))
    if ('halves' in best) {
      halves = (best as HalvesExplanation).halves
      break
    }
    ctx = contextOf({ ...station, model: best.problem.model }, best.whole ?? best.problem, best.problem, best.fit)
  }
  return { suspects, halves }
}

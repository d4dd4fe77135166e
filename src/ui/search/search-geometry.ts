/** The pattern of a search as a small picture: done, here, still to come, skipped. Degrees in, drawing units out; right is right, up is up. */
export interface SearchDrawing {
  steps: readonly { rightDeg: number; upDeg: number; inside: boolean }[]
  /** Index of the present step; null: all are done, or none has begun. */
  here: number | null
  /** As many of the steps, in order, are behind. */
  done: number
}

export interface SearchShapes {
  width: number
  height: number
  radius: number
  done: Spot[]
  toCome: Spot[]
  skipped: Spot[]
  here: Spot | null
  words: string[]
}
interface Spot {
  x: number
  y: number
}

export const SEARCH_WIDTH = 320
const HIGHEST = 140
const LOWEST = 60
export const MARGIN = 14
const LARGEST = 7
const SMALLEST = 1

export function searchShapes({ steps, here, done }: SearchDrawing): SearchShapes {
  const far = (of: (s: { rightDeg: number; upDeg: number }) => number) =>
    steps.reduce((most, s) => Math.max(most, Math.abs(of(s))), 1e-6)
  const [right, up] = [far(step => step.rightDeg), far(step => step.upDeg)]
  const scale = Math.min((SEARCH_WIDTH / 2 - MARGIN) / right, (HIGHEST / 2 - MARGIN) / up)
  const height = Math.max(LOWEST, 2 * (up * scale + MARGIN))
  const at = (step: { rightDeg: number; upDeg: number }): Spot => ({
    x: SEARCH_WIDTH / 2 + scale * step.rightDeg,
    y: height / 2 - scale * step.upDeg,
  })
  const spacing = spacingOf(steps)
  const shapes: SearchShapes = {
    width: SEARCH_WIDTH,
    height,
    radius: Math.max(SMALLEST, Math.min(LARGEST, 0.36 * scale * spacing)),
    done: [],
    toCome: [],
    skipped: [],
    here: here === null || steps[here] === undefined ? null : at(steps[here]),
    words: [],
  }
  steps.forEach((s, k) => {
    if (k === here) return
    ;(s.inside ? (k < done ? shapes.done : shapes.toCome) : shapes.skipped).push(at(s))
  })
  const inside = steps.filter(s => s.inside).length
  const before = steps.slice(0, done).filter(s => s.inside).length
  shapes.words.push(
    `${inside} steps, ${before} of them done.`,
    ...(shapes.skipped.length > 0 ? [`${shapes.skipped.length} beyond the limits are left out.`] : []),
  )
  return shapes
}

/** From the first step to the one nearest to it. */
function spacingOf(steps: SearchDrawing['steps']): number {
  const [first, ...rest] = steps
  if (first === undefined || rest.length === 0) return 1
  return Math.min(
    ...rest.slice(0, 200).map(step => Math.hypot(step.rightDeg - first.rightDeg, step.upDeg - first.upDeg)),
  )
}

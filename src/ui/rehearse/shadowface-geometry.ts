/**
 * The middle of the dish's face with the feed's shadow: lines to read it by, every 50 mm where there is room, soft edge and core. As seen from behind,
 * UP mark above. Millimetres in; drawing units out.
 */
import type { FacePlace, FeedShadow } from '../../core/rehearse/shadow.ts'
import { n1 } from '../kit/marks.ts'

export const FACE_SIZE = 220
/** So far apart that no more than eight lie to a side: those of a Sun far out are read more roughly. */
const lineMm = (reachMm: number): number => [50, 100, 250, 500].find(mm => reachMm <= 8 * mm) ?? 1000

interface ShadowFace {
  /** Millimetres between two lines. */
  lineMm: number
  /** Drawing units per millimetre. */
  scale: number
  soft: string
  core: string
  lines: { at: number; mm: number; isMain: boolean }[]
  rimR: number
}

/** How far from the vertex the drawing reaches, mm: to the whole shadow, at least 150 mm and some margin, at most to the rim. */
export function reachOf(shadow: FeedShadow, diameterMm: number): number {
  const farthest = Math.max(...shadow.penumbra.map(p => Math.max(Math.abs(p[0]), Math.abs(p[1]))), 150)
  return Math.min(diameterMm / 2, 50 * Math.ceil((farthest + 20) / 50))
}

export function shadowFace(shadow: FeedShadow, diameterMm: number): ShadowFace {
  const reach = reachOf(shadow, diameterMm)
  const scale = (FACE_SIZE / 2 - 4) / reach
  const path = (outline: readonly FacePlace[]): string =>
    outline.length === 0
      ? ''
      : `M${outline.map(([x, y]) => `${n1(FACE_SIZE / 2 + x * scale)} ${n1(FACE_SIZE / 2 - y * scale)}`).join('L')}Z`
  const each = lineMm(reach)
  const count = Math.floor(reach / each)
  return {
    lineMm: each,
    scale,
    soft: path(shadow.penumbra),
    core: path(shadow.umbra.length > 0 ? shadow.umbra : shadow.sharp),
    lines: Array.from({ length: 2 * count + 1 }, (_, k) => {
      const mm = (k - count) * each
      return { at: FACE_SIZE / 2 + mm * scale, mm, isMain: mm % (2 * each) === 0 }
    }),
    rimR: (diameterMm / 2) * scale,
  }
}

/** Hours by month: a full bar for A, a hollow one below it for B, the hours at the right. Drawing units, y down. */
import { fixed } from '../kit/format.ts'
import { n1 } from '../kit/marks.ts'
import { MONTHS } from './words.ts'

export interface MonthsShapes {
  width: number
  height: number
  rows: {
    word: string
    y: number
    bars: { which: 'a' | 'b'; y: number; width: number; height: number }[]
    hours: string
  }[]
  left: number
}

const WIDTH = 358
const LEFT = 40

/** @param b  null: there is only one mount */
export function monthsShapes(a: readonly number[], b: readonly number[] | null): MonthsShapes {
  const right = b ? 84 : 46
  const pitch = b ? 24 : 18
  const most = Math.max(1, ...a, ...(b ?? []))
  const long = (hours: number) => n1(((WIDTH - LEFT - right) * hours) / most)
  return {
    width: WIDTH,
    height: pitch * 12 + 4,
    left: LEFT,
    rows: MONTHS.map((word, k) => {
      const top = pitch * k + 2
      const bars = [{ which: 'a' as const, y: top + 2, width: long(a[k]!), height: b ? 8 : 12 }]
      return {
        word,
        y: top + pitch / 2,
        bars: b ? [...bars, { which: 'b' as const, y: top + 12, width: long(b[k]!), height: 8 }] : bars,
        hours: b ? `${fixed(a[k]!, 0)} | ${fixed(b[k]!, 0)}` : fixed(a[k]!, 0),
      }
    }),
  }
}

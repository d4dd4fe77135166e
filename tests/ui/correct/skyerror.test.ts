import { describe, expect, it } from 'vitest'
import { skyErrorShapes } from '../../../src/ui/correct/skyerror-geometry.ts'
import { someOf } from '../../helpers/some.ts'

const cells = (['high', 'low'] as const).flatMap(row =>
  (['east', 'middle', 'west'] as const).map((column, i) => ({
    row,
    column,
    beforeDb: 2 + i,
    afterDb: (row === 'low' && i === 2 ? 0.9 : 0.02 + 0.2 * i) as number | null,
  })),
)

describe('skyErrorShapes', () => {
  it('lays east, middle, west from left to right, high above low', () => {
    const s = skyErrorShapes({ cells, allowedDb: 0.5 })
    expect(s.columns.map(c => c.word)).toEqual(['east', 'middle', 'west'])
    expect(s.rows.map(r => r.word)).toEqual(['Moon at northern declination', 'Moon at southern declination'])
    expect(s.cells).toHaveLength(6)
    expect(s.cells[0]!.x).toBeLessThan(s.cells[2]!.x)
    expect(s.cells[0]!.y).toBeLessThan(s.cells[3]!.y)
    expect(s.cells[2]!.x + s.cells[2]!.width).toBeCloseTo(358, 9)
  })
  it('marks only what is over the allowed loss, by frame and by word', () => {
    const s = skyErrorShapes({ cells, allowedDb: 0.5 })
    expect(s.cells.map(c => c.over)).toEqual([false, false, false, false, false, true])
    expect(s.words.at(-1)).toMatch(
      /^Moon at southern declination, west: 0.9.dB, before 4.0.dB, over what is allowed\.$/,
    )
  })
  it('says what is out of reach instead of a number', () => {
    const s = skyErrorShapes({ cells: cells.map((c, i) => (i === 0 ? { ...c, afterDb: null } : c)), allowedDb: 0.5 })
    expect(s.cells[0]).toMatchObject({ after: '–', before: 'out of reach', over: false, afterBar: 0 })
  })
  it('has three rows where three are given, and never a bar longer than its cell', () => {
    const s = skyErrorShapes({
      cells: [...cells, { row: 'middle', column: 'east', beforeDb: 99, afterDb: 50 }],
      allowedDb: 0.5,
    })
    expect(s.rows).toHaveLength(3)
    for (const c of someOf(s.cells)) expect(Math.max(c.beforeBar, c.afterBar)).toBeLessThanOrEqual(c.width - 16)
  })
})

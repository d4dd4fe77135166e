/** Names of positions: which can be returned to, and where something stands. */
import { describe, expect, it } from 'vitest'
import { positionNames, standsAt } from '../../../src/core/level/positions.ts'
import type { ChangeRecord } from '../../../src/core/records/fieldbook.ts'
import { gravelPit } from '../../helpers/stations.ts'

const at = (day: number): string => `2026-05-${String(day).padStart(2, '0')}T12:00:00Z`
const ms = (day: number): number => Date.parse(at(day))
const change = (id: string, day: number, what: string[], position?: ChangeRecord['position']): ChangeRecord => ({
  id,
  utc: at(day),
  what,
  ...(position && { position }),
})
const station = {
  ...gravelPit(),
  changes: [
    change('c3', 9, ['lower-axis'], { name: 'east' }),
    change('c1', 3, ['lower-axis'], { name: 'west', before: 'east' }),
    change('c2', 5, ['upper-zero'], { name: 'inner stop' }),
    change('c4', 12, ['feed:a']),
    change('c5', 14, ['all']),
  ],
}

describe('positions', () => {
  it('lists the names of what a change moves, each once, the latest first', () => {
    expect(positionNames(station, ['lower-axis'])).toEqual(['east', 'west'])
    expect(positionNames(station, ['upper-zero'])).toEqual(['inner stop'])
    expect(positionNames(station, ['lower-axis'], 'c1')).toEqual(['east'])
    expect(positionNames(station, ['dish'])).toEqual([])
  })

  it('knows where the mount stands at a time, also before its first change, and no more after a change without a name', () => {
    const stands = (day: number) => standsAt(station, ['lower-axis'], ms(day))
    expect([2, 4, 8, 10].map(stands)).toEqual(['east', 'west', 'west', 'east'])
    expect(stands(15)).toBeNull()
    expect(standsAt(station, ['lower-axis'], ms(2), 'c1')).toBeNull()
    expect(standsAt(station, ['upper-zero'], ms(4))).toBeNull()
  })
})

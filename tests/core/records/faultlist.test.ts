import { describe, expect, it } from 'vitest'
import { faultList } from '../../../src/core/records/faultlist.ts'

const at = (i: number) => `stations[0].sightings[${i}].feed`

describe('faultList', () => {
  it('tells three faults of one kind one by one, with their paths', () => {
    const faults = faultList()
    for (let i = 0; i < 3; i++) faults.add(at(i), 'feed is missing')
    expect(faults.all().map(f => f.path)).toEqual([at(0), at(1), at(2)])
  })

  it('tells a fault of 28 sightings once, "and 27 more", in its place among the others', () => {
    const faults = faultList()
    faults.add('name', 'name is missing')
    for (let i = 0; i < 28; i++) {
      faults.add(at(i), `there is no feed "q${i}"`)
      if (i === 5) faults.add('stations[0].sightings[5].utc', 'utc must be a real time')
    }
    expect(faults.all()).toEqual([
      { path: 'name', rule: 'name is missing' },
      { path: at(0), rule: 'there is no feed "q0" (and 27 more like it)' },
      { path: 'stations[0].sightings[5].utc', rule: 'utc must be a real time' },
    ])
  })

  it('holds the same rule in two different fields apart', () => {
    const faults = faultList()
    for (let i = 0; i < 9; i++)
      for (const key of ['lower', 'upper']) faults.add(`sightings[${i}].${key}`, `${key} must be a number, got "${i}"`)
    expect(faults.all().map(f => f.path)).toEqual(['sightings[0].lower', 'sightings[0].upper'])
  })

  it('lists 100 faults and says how many more there are', () => {
    const faults = faultList()
    for (let i = 0; i < 250; i++) faults.add('', `rule ${String.fromCharCode(97 + (i % 26), 97 + Math.floor(i / 26))}`)
    expect(faults.all()).toHaveLength(101)
    expect(faults.all()[100]).toEqual({ path: '', rule: 'and 150 more broken rules, not listed' })
  })
})

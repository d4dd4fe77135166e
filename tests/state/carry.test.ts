import { describe, expect, it } from 'vitest'
import type { CarryPage } from '../../src/core/carry/page.ts'
import { carryPage as pageOf } from '../../src/core/questions.ts'
import { carriedPage, carryChoiceOf, chooseCarry, isEnteredAs, noteCarried } from '../../src/state/carry.ts'
import { remember, remembered } from '../../src/state/memory.ts'
import { answered } from '../helpers/answered.ts'
import { bookOf, COUNTED, gravelPit, weir } from '../helpers/stations.ts'

const pit = gravelPit()
const other = { ...weir('ha-dec', 50), id: 'other' }
const wish = { aiming: 'paper', law: 'line', unit: 'degrees', way: 'command', step: 2 } as const
const page = (): CarryPage => {
  return answered(pageOf(bookOf(pit), { now: '2026-05-01T00:00:00Z', wish }))
}

describe('what a program can take', () => {
  it('is one choice a station, kept on the phone; nothing is picked for anybody', () => {
    expect(carryChoiceOf(pit)).toMatchObject({ aiming: null, law: null })
    chooseCarry(pit, { aiming: 'site' })
    chooseCarry(pit, { law: 'cubic', way: 'reading' })
    expect(carryChoiceOf(pit)).toMatchObject({ aiming: 'site', law: 'cubic', way: 'reading' })
    expect(carryChoiceOf(other)).toMatchObject({ aiming: null, law: null })
    expect(JSON.parse(remembered('moonplumb.carry')!)[pit.id]).toMatchObject({ aiming: 'site', law: 'cubic' })
  })
})

describe('the page that was carried over', () => {
  it('is kept as it stood, each station its own', () => {
    expect(carriedPage(pit)).toBeNull()
    const made = page()
    noteCarried(pit, made)
    expect(carriedPage(pit)).toEqual(JSON.parse(JSON.stringify(made)))
    expect(carriedPage(other)).toBeNull()
  })
  it('is none where what is kept cannot be read, or is of another version', () => {
    for (const text of ['', '{', 'null', '{"version":2,"page":{}}', '{"version":1,"page":{"numbers":[]}}']) {
      remember(`moonplumb.carried.${other.id}`, text)
      expect(carriedPage(other)).toBeNull()
    }
  })
  it('no longer fits where place, mount or a readout was edited since', () => {
    const made = page()
    expect(isEnteredAs(pit, made)).toBe(true)
    expect(isEnteredAs({ ...pit, name: 'Another name' }, made)).toBe(true)
    expect(isEnteredAs({ ...pit, site: { ...pit.site, latDeg: pit.site.latDeg + 0.1 } }, made)).toBe(false)
    expect(isEnteredAs({ ...pit, mount: { ...pit.mount, upper: COUNTED } }, made)).toBe(false)
    expect(isEnteredAs(other, made)).toBe(false)
  })
})

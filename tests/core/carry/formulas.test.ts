import { describe, expect, it } from 'vitest'
import type { CarryWish } from '../../../src/core/carry/numbers.ts'
import { carryScene, pageFor } from '../../helpers/carrytrials.ts'
import { someOf } from '../../helpers/some.ts'

/** A printed formula as a function: the text alone, read as arithmetic in degrees. */
function computed(text: string, names: Record<string, number>): number {
  const body = text
    .replace(/^[A-Za-z ]+= /, '')
    .replace(/(\d(?:\.\d+)?(?:e-?\d+)?) (?=[A-Za-z(])/g, '$1 * ')
    .replace(/\^/g, '**')
    .replace(/(^|[-+] |\()-(\d[^ ]*)/g, '$1(-$2)')
  const D = Math.PI / 180
  const known = {
    cos: (x: number) => Math.cos(x * D),
    acos: (x: number) => Math.acos(x) / D,
    sqrt: Math.sqrt,
    ...names,
  }
  return new Function(...Object.keys(known), `return ${body}`)(...Object.values(known)) as number
}

const scene = carryScene(7, { kind: 'az-over-el', lower: 'degrees', upper: 'jack' })
const page = (wish: Partial<CarryWish>) =>
  pageFor(scene, { aiming: 'geometry', law: 'line', unit: 'degrees', way: 'command', step: 2, ...wish })

describe('the formulas of a page', () => {
  it('say both conventions of one straight line: what is added to the command is what is subtracted from the reading', () => {
    const f = page({}).formulas.lower
    for (const A of [5, 40, 80]) {
      const R = computed(f.command, { A })
      expect(A + computed(f.add!, { A })).toBeCloseTo(R, 3)
      expect(computed(f.reading, { R })).toBeCloseTo(A, 2)
      expect(R - computed(f.subtract!, { R })).toBeCloseTo(A, 2)
    }
  })
  it('of a cubic are the numbers of the page to the letter, with the way back as its own fit', () => {
    const p = page({ law: 'cubic' })
    const f = p.formulas.upper
    for (const n of someOf(p.numbers.filter(x => x.axis === 'upper')))
      expect(f.command).toContain(n.text.replace(/^-/, ''))
    const R = computed(f.command, { A: 20 })
    expect(20 + computed(f.add!, { A: 20 })).toBeCloseTo(R, 2)
    expect(computed(f.reading, { R })).toBeCloseTo(20, 0)
    expect(R - computed(f.subtract!, { R })).toBeCloseTo(computed(f.reading, { R }), 2)
  })
  it('of a jack go there and back through its triangle', () => {
    const f = page({ law: 'jack' }).formulas.upper
    for (const A of [-30, 0, 30]) {
      const counts = computed(f.command, { A })
      expect(computed(f.reading, { counts })).toBeCloseTo(A, 6)
    }
  })
})

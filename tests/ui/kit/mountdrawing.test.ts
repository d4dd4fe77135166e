/** The mount drawn with what to turn: arrows that go the right way, labels that lie on nothing, on every mount and for many solutions. */
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { adviceFor } from '../../../src/core/export/advice.ts'
import { PARAMETER_IDS, unitOf } from '../../../src/core/mount/parameters.ts'
import { slotOf } from '../../../src/core/mount/slots.ts'
import type { MountKind } from '../../../src/core/records/fieldbook.ts'
import { drawnMoves } from '../../../src/ui/correct/drawnwords.ts'
import type { Found } from '../../../src/ui/correct/found.ts'
import {
  COLUMN,
  HEIGHT,
  MOUNT_WIDTH,
  type MountShapes,
  mountDrawing,
  textWidth,
  wrapped,
} from '../../../src/ui/kit/mountdrawing-geometry.ts'
import { KINDS } from '../../helpers/simulate.ts'
import { someOf } from '../../helpers/some.ts'

/** Nothing of the drawing itself lies outside. */
const INNER: readonly [number, number] = [112, 248]

/** A solution in which some parameters are off, as the rows that the screen has. */
function turns(kind: MountKind, latDeg: number, values: readonly (number | null)[], isOpen = false): Found[] {
  const mount = { kind, latDeg }
  return PARAMETER_IDS.filter(id => slotOf(id, kind) !== null).flatMap((id, i) => {
    const value = values[i % values.length]
    if (value == null) return []
    const state = isOpen ? 'open' : 'settled'
    const advice = adviceFor({ id, value, sigma: Math.abs(value) / 6, unit: unitOf(id), state }, mount)
    return advice.kind === 'move' ? [{ key: `${id} `, advice } as Found] : []
  })
}

const drawn = (kind: MountKind, latDeg: number, values: readonly (number | null)[], isOpen = false): MountShapes =>
  mountDrawing({ kind, isSouth: latDeg < 0, moves: drawnMoves(turns(kind, latDeg, values, isOpen), 'a', 'mm') })

/** The ends of the lines and arcs of a path; an ellipse's reach is its ends too, side to side. */
const ends = (d: string): number[][] =>
  d
    .replace(/Z/g, '')
    .split(/(?=[MLA])/)
    .map(part => part.slice(1).trim().split(/\s+/).map(Number).slice(-2))
const xs = (d: string): number[] => ends(d).map(p => p[0]!)
const ys = (d: string): number[] => ends(d).map(p => p[1]!)

interface Box {
  x0: number
  x1: number
  y0: number
  y1: number
}
/** Every line of every label as a box. */
const boxes = (s: MountShapes): Box[] =>
  s.labels.flatMap(l =>
    l.lines.map(t => {
      const w = textWidth(t.text)
      return { x0: l.side === 'left' ? l.x : l.x - w, x1: l.side === 'left' ? l.x + w : l.x, y0: t.y - 14, y1: t.y + 4 }
    }),
  )
const overlap = (a: Box, b: Box): boolean => a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1

const value = fc.option(fc.double({ min: -25, max: 25, noNaN: true }).filter(x => Math.abs(x) > 0.01))

describe('mountDrawing', () => {
  it('on every mount, for any solution, no label lies on another, on the drawing, or outside', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...KINDS),
        fc.constantFrom(48, -33),
        fc.array(value, { minLength: 3, maxLength: 24 }),
        fc.boolean(),
        (kind, latDeg, values, isOpen) => {
          const s = drawn(kind, latDeg, values, isOpen)
          const all = boxes(s)
          const wrong: string[] = []
          for (const [i, a] of all.entries()) {
            if (a.y0 < -1 || a.y1 > HEIGHT + 1 || a.x0 < 0 || a.x1 > MOUNT_WIDTH)
              wrong.push(`outside ${JSON.stringify(a)}`)
            // The drawing and its arrows keep to the middle; the columns of labels to the sides.
            if (a.x1 > INNER[0] && a.x0 < INNER[1]) wrong.push(`on the drawing ${JSON.stringify(a)}`)
            if (all.slice(i + 1).some(b => overlap(a, b))) wrong.push(`on another ${JSON.stringify(a)}`)
          }
          const shapes = [...s.fine, ...s.heavy, ...s.ground, s.lower, s.upper]
          for (const d of [...shapes, ...s.arrows.flatMap(x => [x.path, x.head])])
            if (xs(d).some(x => x < INNER[0] || x > INNER[1])) wrong.push(`beside the middle ${d}`)
          expect(wrong).toEqual([])
          // Each arrow has its label, and what found no room is counted.
          expect(s.labels.map(l => l.key).sort()).toEqual(s.arrows.map(x => x.key).sort())
          expect(s.arrows.length + s.left).toBe(turns(kind, latDeg, values, isOpen).length)
        },
      ),
      { numRuns: 120 },
    )
  })

  it('finds room for everything that an ordinary solution says: the lower axis, the dish and the feed', () => {
    for (const kind of KINDS)
      for (const sign of [1, -1]) expect(drawn(kind, 48, [4 * sign]).left).toBeLessThanOrEqual(3)
    for (const kind of KINDS) {
      const first = turns(kind, 48, [2]).slice(0, 4)
      const s = mountDrawing({ kind, isSouth: false, moves: drawnMoves(first, 'a', 'mm') })
      expect(s.left).toBe(0)
      expect(s.arrows).toHaveLength(first.length)
    }
  })

  it('turns clockwise from above by an arrow to the left on the near side, and back by one to the right', () => {
    const [from, to] = xs(drawn('az-over-el', 48, [-3]).arrows[0]!.path)
    expect(to).toBeLessThan(from!)
    const [back, forth] = xs(drawn('az-over-el', 48, [3]).arrows[0]!.path)
    expect(forth).toBeGreaterThan(back!)
  })

  it('raises the end that stands low: the bar leans, and the arrow goes up under its lower end', () => {
    const only = (v: number) =>
      mountDrawing({
        kind: 'az-over-el',
        isSouth: false,
        moves: drawnMoves(
          turns('az-over-el', 48, [v]).filter(f => f.key === 'level '),
          'a',
          'mm',
        ),
      })
    for (const [v, x] of [
      [0.6, INNER[0]],
      [-0.6, INNER[1]],
    ] as const) {
      const s = only(v)
      const [left, right] = ys(s.lower)
      // y grows downward.
      if (v > 0) expect(left).toBeGreaterThan(right!)
      else expect(right).toBeGreaterThan(left!)
      const [from, to] = ys(s.arrows[0]!.path)
      expect(to).toBeLessThan(from!)
      expect(Math.abs(xs(s.arrows[0]!.path)[0]! - x)).toBeLessThan(20)
      expect(s.labels[0]!.lines.map(l => l.text).join(' ')).toContain('raise this end 0.6')
    }
  })

  it('draws the polar axis as seen toward the equator: west is right in the north, left in the south', () => {
    const way = (latDeg: number, v: number) => {
      const found = turns('ha-dec', latDeg, [v]).filter(f => f.key === 'poleEast ')
      const s = mountDrawing({ kind: 'ha-dec', isSouth: latDeg < 0, moves: drawnMoves(found, 'a', 'mm') })
      const [from, to] = xs(s.arrows[0]!.path)
      return { title: s.words[0]!, goesRight: to! > from! }
    }
    // The north-pole end stands east: move the end that points up west in the north, east in the south.
    expect(way(48, 2)).toMatchObject({ title: expect.stringMatching(/^upper end west/), goesRight: true })
    expect(way(-33, 2)).toMatchObject({ title: expect.stringMatching(/^upper end east/), goesRight: true })
    expect(way(48, -2)).toMatchObject({ title: expect.stringMatching(/^upper end east/), goesRight: false })
  })

  it('calls a first step one', () => {
    const s = drawn('az-over-el', 48, [3], true)
    expect(s.labels[0]!.lines.at(-1)!.text).toBe('first step')
  })
})

describe('wrapped', () => {
  it('keeps to the column, and never breaks a word', () => {
    expect(wrapped('raise this end')).toEqual(['raise this', 'end'])
    expect(wrapped('turn anticlockwise')).toEqual(['turn', 'anticlockwise'])
    for (const line of someOf(wrapped('turn dish right and tip mast north')))
      expect(textWidth(line)).toBeLessThanOrEqual(COLUMN)
    expect(textWidth('anticlockwise')).toBeLessThanOrEqual(INNER[0])
  })
})

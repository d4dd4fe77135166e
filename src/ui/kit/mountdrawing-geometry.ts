/**
 * The mount drawn from behind the dish, with an arrow for each thing to turn and its amount beside it. Numbers and moves in, lines and placed
 * labels out; drawing units, 360 wide. The lower axis is a solid rule, the upper a dashed one. Labels stand in a column on either side, each at
 * the height of its arrow as far as there is room, with a fine line to it; none lies over another or over the drawing.
 */
import type { MovedPart, Toward } from '../../core/export/advice.ts'
import type { MountKind } from '../../core/records/fieldbook.ts'

export type DrawnPoint = readonly [x: number, y: number]

/** One thing to turn. */
export interface DrawnMove {
  key: string
  part: MovedPart
  toward: Toward
  /** "raise this end" */
  title: string
  /** "0.6 ± 0.2°" */
  amount: string
  /** A line below: "first step". */
  note?: string
}

export interface MountDrawing {
  kind: MountKind
  /** Seen toward the equator an hour-angle mount has east at the left in the north, at the right in the south. */
  isSouth: boolean
  moves: readonly DrawnMove[]
}

export interface Arrow {
  key: string
  path: string
  /** The three corners of its head. */
  head: string
}

export interface Label {
  key: string
  side: 'left' | 'right'
  /** Left edge of the column at the left; right edge at the right: texts begin there, or end there. */
  x: number
  /** Baselines. */
  lines: { y: number; text: string; strong: boolean }[]
  top: number
  bottom: number
  /** From the label to its arrow. */
  leader: readonly [DrawnPoint, DrawnPoint]
}

export interface MountShapes {
  width: number
  height: number
  /** The dish, the mast, the ground. */
  fine: string[]
  heavy: string[]
  ground: string[]
  lower: string
  upper: string
  arrows: Arrow[]
  labels: Label[]
  /** How many moves found no room: they are in the list only. */
  left: number
  words: string[]
}

export const MOUNT_WIDTH = 360
export const HEIGHT = 262
/** Text in the drawing, drawing units. */
export const LETTER = 16
export const LINE = 19
/** No line of a label is wider, except a single long word. */
export const COLUMN = 106
const GAP = 8
const GROUND = 244
const HEAD = 13

/** Advance of the face's letters, of their height, in classes (measured in the font; both weights alike). */
const ADVANCES: readonly (readonly [RegExp, number])[] = [
  [/[mMW%]/, 0.95],
  [/[wNU]/, 0.75],
  [/[0-9]/, 0.65],
  [/[ijl.,°′\s]/, 0.35],
  [/[frst]/, 0.45],
]

/** How wide a line is, drawing units; rather too wide than too narrow. */
export const textWidth = (text: string): number =>
  LETTER * [...text].reduce((a, c) => a + (ADVANCES.find(([of]) => of.test(c))?.[1] ?? 0.6), 0)

const line = (a: DrawnPoint, b: DrawnPoint): string => `M${a[0]} ${a[1]} L${b[0]} ${b[1]}`
const ellipse = (x: number, y: number, rx: number, ry: number): string =>
  `M${x - rx} ${y} A${rx} ${ry} 0 1 1 ${x + rx} ${y} A${rx} ${ry} 0 1 1 ${x - rx} ${y}`
const r1 = (x: number): number => Math.round(x * 10) / 10

function headAt([x, y]: DrawnPoint, angle: number): string {
  const corner = (d: number, w: number) =>
    `${r1(x + d * Math.cos(angle) - w * Math.sin(angle))} ${r1(y + d * Math.sin(angle) + w * Math.cos(angle))}`
  return `M${corner(HEAD, 0)} L${corner(0, HEAD / 1.6)} L${corner(0, -HEAD / 1.6)} Z`
}

/** Where an arrow lies. The tip is a head's length beyond `to`. */
interface Drawn {
  path: string
  head: string
  at: DrawnPoint
  side: 'left' | 'right'
}

function straight(from: DrawnPoint, to: DrawnPoint, side?: 'left' | 'right'): Drawn {
  const angle = Math.atan2(to[1] - from[1], to[0] - from[0])
  const at: DrawnPoint = [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2]
  return { path: line(from, to), head: headAt(to, angle), at, side: side ?? (at[0] < 180 ? 'left' : 'right') }
}

/** Round the foot, the near side drawn: clockwise from above goes from right to left there. */
function roundFoot(isClockwise: boolean): Drawn {
  const [y, rx, ry] = [GROUND - 24, 34, 11]
  const [from, to]: [DrawnPoint, DrawnPoint] = isClockwise
    ? [
        [180 + rx, y],
        [180 - rx + 4, y + 6],
      ]
    : [
        [180 - rx, y],
        [180 + rx - 4, y + 6],
      ]
  return {
    path: `M${from[0]} ${from[1]} A${rx} ${ry} 0 0 ${isClockwise ? 1 : 0} ${to[0]} ${to[1]}`,
    head: headAt(to, isClockwise ? Math.PI + 0.45 : -0.45),
    at: [from[0], y],
    side: isClockwise ? 'right' : 'left',
  }
}

const HORIZONTAL: Readonly<Partial<Record<Toward, number>>> = { left: -1, west: -1, right: 1, east: 1 }

interface Place {
  dishTop: number
  feed: DrawnPoint
  upperEnds: number
  flip: number
}

/** The arrow of a move; each part has its own place, so that no two arrows lie on each other. */
function arrowOf({ kind }: MountDrawing, { part, toward }: DrawnMove, p: Place): Drawn {
  const sideways = (HORIZONTAL[toward] ?? 1) * (toward === 'east' || toward === 'west' ? p.flip : 1)
  const across = (y: number, from = 6, to = 34): Drawn => straight([180 + sideways * from, y], [180 + sideways * to, y])
  const upright = (x: number, y: number, isUp: boolean): Drawn =>
    straight([x, isUp ? y + 30 : y], [x, isUp ? y + HEAD : y + 30 - HEAD])
  /** Away from who looks, or toward. */
  const deep = (x: number, y: number, isAway: boolean): Drawn =>
    isAway ? straight([x - 9, y + 9], [x + 4, y - 4], 'right') : straight([x + 9, y - 9], [x - 4, y + 4], 'right')
  switch (part) {
    case 'mount':
      return roundFoot(toward === 'clockwise')
    case 'mast':
      return toward === 'north' || toward === 'south' ? deep(206, 160, toward === 'north') : across(192, 8)
    case 'left-end':
      return upright(122, 152, true)
    case 'right-end':
      return upright(238, 152, true)
    case 'rear-end':
      return upright(134, 190, true)
    case 'forward-end':
      return upright(226, 150, true)
    case 'polar-axis':
      return toward === 'up' || toward === 'down' ? upright(208, 146, toward === 'up') : across(192, 8)
    case 'upper-axis-left-end':
      return upright(124, p.upperEnds + 12, true)
    case 'upper-axis-right-end':
      return kind === 'x-y' ? deep(232, 116, toward === 'forward') : upright(236, p.upperEnds + 12, true)
    case 'upper-axis-top':
      return across(14)
    case 'upper-axis-west-end':
      return {
        ...deep(p.flip > 0 ? 126 : 234, 146, (toward === 'south') === p.flip < 0),
        side: p.flip > 0 ? 'left' : 'right',
      }
    case 'dish':
      return toward === 'up' || toward === 'down' ? upright(234, 60, toward === 'up') : across(p.dishTop, 8, 40)
    case 'feed':
      return toward === 'left' || toward === 'right'
        ? across(p.feed[1], 8, 28)
        : kind === 'x-y'
          ? deep(p.feed[0], p.feed[1] - 16, toward === 'from-up-mark')
          : {
              ...straight(
                [180, p.feed[1] + (toward === 'up-mark' ? -6 : 6)],
                [180, p.feed[1] + (toward === 'up-mark' ? -18 : 18)],
              ),
              side: 'left',
            }
    case 'tube':
      return toward === 'left' || toward === 'right'
        ? { ...straight([sideways > 0 ? 196 : 226, 96], [sideways > 0 ? 214 : 208, 96]), side: 'right' }
        : { ...upright(216, 86, toward === 'up-mark'), side: 'right' }
  }
}

/** Lines that fit the column; a longer word has one to itself. */
export function wrapped(text: string): string[] {
  const out: string[] = []
  for (const word of text.split(' ')) {
    const last = out.at(-1)
    if (last !== undefined && textWidth(`${last} ${word}`) <= COLUMN) out[out.length - 1] = `${last} ${word}`
    else out.push(word)
  }
  return out
}

/** "0.6 ± 0.2°" on one line, else broken before the ±. */
function amountLines(amount: string): string[] {
  const at = amount.indexOf('±')
  return at <= 0 || textWidth(amount) <= COLUMN ? [amount] : [amount.slice(0, at).trim(), amount.slice(at)]
}

interface Block {
  move: DrawnMove
  drawn: Drawn
  lines: { text: string; strong: boolean }[]
  height: number
}

function blockOf(move: DrawnMove, drawn: Drawn): Block {
  const lines = [
    ...wrapped(move.title).map(text => ({ text, strong: true })),
    ...amountLines(move.amount).map(text => ({ text, strong: false })),
    ...(move.note ? [{ text: move.note, strong: false }] : []),
  ]
  return { move, drawn, lines, height: lines.length * LINE }
}

const heightOf = (column: readonly Block[]): number => column.reduce((a, b) => a + b.height + GAP, -GAP)

/** One column: each at the height of its arrow, moved down as the one above needs, then up as the foot needs. */
function columnLabels(column: readonly Block[], side: 'left' | 'right'): Label[] {
  const blocks = [...column].sort((a, b) => a.drawn.at[1] - b.drawn.at[1])
  const tops: number[] = []
  let free = 0
  for (const b of blocks) {
    const top = Math.max(free, b.drawn.at[1] - b.height / 2)
    tops.push(top)
    free = top + b.height + GAP
  }
  let foot = HEIGHT
  for (let i = blocks.length - 1; i >= 0; i--) {
    tops[i] = Math.min(tops[i]!, foot - blocks[i]!.height)
    foot = tops[i]! - GAP
  }
  const x = side === 'left' ? 0 : MOUNT_WIDTH
  return blocks.map((b, i) => {
    const top = tops[i]!
    const first = b.lines[0]!
    const edge = side === 'left' ? textWidth(first.text) + 4 : MOUNT_WIDTH - textWidth(first.text) - 4
    return {
      key: b.move.key,
      side,
      x,
      top,
      bottom: top + b.height,
      lines: b.lines.map((l, k) => ({ ...l, y: top + k * LINE + 14 })),
      leader: [[Math.min(Math.max(edge, 0), MOUNT_WIDTH), top + 9], b.drawn.at],
    }
  })
}

export function mountDrawing(d: MountDrawing): MountShapes {
  const body = mountBody(d)
  const columns: Record<'left' | 'right', Block[]> = { left: [], right: [] }
  let left = 0
  const arrows: Arrow[] = []
  const taken = new Set<string>()
  for (const move of d.moves) {
    const drawn = arrowOf(d, move, body.place)
    const block = blockOf(move, drawn)
    const other = drawn.side === 'left' ? 'right' : 'left'
    const side = ([drawn.side, other] as const).find(s => heightOf([...columns[s], block]) <= HEIGHT)
    // One arrow in a place, one label in a gap.
    if (side === undefined || taken.has(drawn.path)) {
      left++
      continue
    }
    taken.add(drawn.path)
    columns[side].push(block)
    arrows.push({ key: move.key, path: drawn.path, head: drawn.head })
  }
  const { place: _, ...shapes } = body
  return {
    width: MOUNT_WIDTH,
    height: HEIGHT,
    ...shapes,
    arrows,
    labels: [...columnLabels(columns.left, 'left'), ...columnLabels(columns.right, 'right')],
    left,
    words: d.moves.map(m => `${m.title}: ${m.amount}${m.note ? `, ${m.note}` : ''}.`),
  }
}

export type Body = Pick<MountShapes, 'fine' | 'heavy' | 'ground' | 'lower' | 'upper'> & { place: Place }

const mast = (top: number): string[] => [line([173, top], [173, GROUND]), line([187, top], [187, GROUND])]
const groundLine = line([118, GROUND], [242, GROUND])

/** The mount without its arrows: others draw on it. */
export function mountBody({ kind, isSouth, moves }: MountDrawing): Body {
  const flip = kind === 'ha-dec' && !isSouth ? -1 : 1
  const round = { heavy: [ellipse(180, 72, 60, 48)], fine: mast(150), ground: [groundLine] }
  const place: Place = { dishTop: 14, feed: [180, 72], upperEnds: 134, flip }
  switch (kind) {
    case 'az-over-el': {
      // The end that is raised stands too low.
      const low = moves.some(m => m.part === 'left-end') ? 4 : moves.some(m => m.part === 'right-end') ? -4 : 0
      return {
        ...round,
        lower: line([116, 134 + low], [244, 134 - low]),
        upper: line([180 + low / 2, 24], [180, 132]),
        place,
      }
    }
    case 'el-over-az':
      return { ...round, fine: [], lower: line([180, 140], [180, GROUND]), upper: line([118, 134], [242, 134]), place }
    case 'ha-dec':
      return {
        ...round,
        fine: [line([180, 190], [140, GROUND]), line([180, 190], [220, GROUND])],
        lower: line([180, 134], [180, 214]),
        upper: line([118, 132], [242, 132]),
        place,
      }
    case 'x-y':
      return {
        ...round,
        heavy: [ellipse(180, 84, 62, 16), 'M118 84 A62 40 0 0 0 242 84'],
        fine: [line([173, 160], [173, GROUND]), line([187, 152], [187, GROUND])],
        lower: line([134, 180], [226, 138]),
        upper: line([126, 132], [234, 132]),
        place: { ...place, dishTop: 58, feed: [180, 34] },
      }
  }
}

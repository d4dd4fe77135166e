/**
 * The loss that is left over the Moon's sky: a table of cells, east, middle, west by high and low declination (or three
 * rows), each with the loss on echoes after correction in large digits, before in small, and a bar against what is
 * allowed. Decibels; drawing units.
 */
import { isBeamOffTarget } from '../../core/dish/optics.ts'
import { allowedDecibels, decibelDigits, decibels, NONE } from '../kit/format.ts'

export type SkyColumn = 'east' | 'middle' | 'west'
export type SkyRow = 'high' | 'middle' | 'low'

export interface SkyErrorCell {
  column: SkyColumn
  row: SkyRow
  /** null: the Moon is never there, or not within reach. */
  beforeDb: number | null
  afterDb: number | null
}

export interface SkyErrorPicture {
  width?: number
  cells: readonly SkyErrorCell[]
  allowedDb: number
}

export interface SkyErrorShapes {
  width: number
  height: number
  columns: { word: string; x: number }[]
  rows: { word: string; y: number }[]
  cells: {
    x: number
    y: number
    width: number
    height: number
    after: string
    before: string
    /** More is lost here than is allowed: a heavy frame and the word "over". */
    over: boolean
    beforeBar: number
    afterBar: number
    allowedX: number
  }[]
  words: string[]
}

const COLUMNS: readonly SkyColumn[] = ['east', 'middle', 'west']
const ROWS: readonly SkyRow[] = ['high', 'middle', 'low']
const ROW_WORDS: Readonly<Record<SkyRow, string>> = {
  high: 'Moon at northern declination',
  middle: 'Moon near the equator',
  low: 'Moon at southern declination',
}
const HEAD = 22
const ROW_HEAD = 24
const CELL = 96

/** No figure beyond half a beamwidth: there the beam misses the Moon. */
const digits = (db: number | null, allowedDb: number): string =>
  db === null ? NONE : isBeamOffTarget(db) ? 'miss' : decibelDigits(db, allowedDb)
const said = (db: number, allowedDb: number): string =>
  isBeamOffTarget(db) ? 'the beam misses the Moon' : decibels(db, allowedDb)

/** The bars end at this many times the allowed loss; what is more fills them. */
const BAR_END = 3

export function skyErrorShapes(e: SkyErrorPicture): SkyErrorShapes {
  const width = e.width ?? 358
  const rowsThere = ROWS.filter(row => e.cells.some(c => c.row === row))
  const gap = 6
  const cellWidth = (width - 2 * gap) / 3
  const cells: SkyErrorShapes['cells'] = []
  const words = [`Loss on echoes over the Moon’s sky; allowed ${allowedDecibels(e.allowedDb)}.`]
  rowsThere.forEach((row, j) => {
    COLUMNS.forEach((column, i) => {
      const cell = e.cells.find(c => c.column === column && c.row === row)
      const after = cell?.afterDb ?? null
      const before = cell?.beforeDb ?? null
      const bar = (db: number | null) =>
        db === null ? 0 : Math.min(1, db / (BAR_END * e.allowedDb)) * (cellWidth - 16)
      const over = after !== null && after > e.allowedDb
      cells.push({
        x: i * (cellWidth + gap),
        y: HEAD + ROW_HEAD + j * (CELL + ROW_HEAD + gap),
        width: cellWidth,
        height: CELL,
        after: digits(after, e.allowedDb),
        before:
          after === null
            ? 'out of reach'
            : before === null
              ? ''
              : isBeamOffTarget(before)
                ? 'was off'
                : `was ${digits(before, e.allowedDb)}`,
        over,
        beforeBar: bar(before),
        afterBar: bar(after),
        allowedX: (cellWidth - 16) / BAR_END,
      })
      words.push(
        after === null
          ? `${ROW_WORDS[row]}, ${column}: the Moon is not within reach there.`
          : `${ROW_WORDS[row]}, ${column}: ${said(after, e.allowedDb)}${before === null ? '' : `, before ${said(before, e.allowedDb)}`}${over ? ', over what is allowed' : ''}.`,
      )
    })
  })
  return {
    width,
    height: HEAD + rowsThere.length * (CELL + ROW_HEAD + gap),
    columns: COLUMNS.map((word, i) => ({ word, x: i * (cellWidth + gap) + cellWidth / 2 })),
    rows: rowsThere.map((row, j) => ({ word: ROW_WORDS[row], y: HEAD + 16 + j * (CELL + ROW_HEAD + gap) })),
    cells,
    words,
  }
}

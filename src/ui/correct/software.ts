/**
 * The numbers for tracking software as rows to read and as text to copy. Here a sign is a sign: the software adds it.
 * On the screen with a true minus, in the text with the keyboard's. Pure.
 */
import type { CountsTable } from '../../core/export/countstable.ts'
import type { Geometry } from '../../core/export/software.ts'
import { AXIS_NAMES } from '../../core/mount/names.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import type { SlopeOffset, Solution } from '../../core/records/solution.ts'
import { fixed, MINUS, NBSP, seenText } from '../kit/format.ts'

type Controller = Solution['controller']

export interface CopiedLine {
  label: string
  value: string
}

const deg = (x: number, decimals = 2): string => `${fixed(x, decimals)}°`
const word = (axis: string): string => `${axis[0]!.toUpperCase()}${axis.slice(1)}`

/** Zero and scale of one axis; a jack's shape goes as a table. */
function axisLines(
  station: StationRecord,
  solution: Solution,
  geometry: Geometry,
  axis: 'lower' | 'upper',
): CopiedLine[] {
  const name = AXIS_NAMES[station.mount.kind][axis]
  const zero = axis === 'lower' ? geometry.lowerZeroDeg : geometry.upperZeroDeg
  if (station.mount[axis].readout.type === 'jack')
    return [{ label: `${word(name)}: add to the angle of its table`, value: deg(zero - zeroOf(solution, axis)) }]
  const scale = solution.parameters.find(p => p.id === `${axis}Scale`)?.value ?? 0
  return [
    { label: `${word(name)}: multiply the reading's angle by`, value: fixed(1 + scale, 4) },
    { label: `${word(name)}: then add`, value: deg(zero) },
  ]
}

/** The zero that the counts table already has in it. */
const zeroOf = (solution: Solution, axis: 'lower' | 'upper'): number =>
  solution.parameters.find(p => p.id === `${axis}Zero`)?.value ?? 0

export function geometryLines(station: StationRecord, solution: Solution, g: Geometry): CopiedLine[] {
  const lines: CopiedLine[] = []
  switch (station.mount.kind) {
    case 'el-over-az':
      lines.push(
        { label: 'Azimuth axis: from the vertical', value: deg(90 - g.lowerAxis.elDeg) },
        { label: 'It leans toward azimuth', value: deg(g.lowerAxis.azDeg, 0) },
        { label: 'Dish, right of square', value: deg(g.dishOffsetDeg) },
      )
      break
    case 'ha-dec':
      lines.push(
        { label: 'Polar axis, upper end: azimuth', value: deg(g.lowerAxis.azDeg) },
        { label: 'Polar axis, upper end: elevation', value: deg(g.lowerAxis.elDeg) },
        { label: 'Dish, west of square at the meridian', value: deg(g.dishOffsetDeg) },
      )
      break
    case 'az-over-el':
      lines.push(
        { label: 'Heading of the mount', value: deg(g.headingDeg ?? 0) },
        { label: 'Tilt axis, right-hand end: elevation', value: deg(g.lowerAxis.elDeg) },
        { label: 'Dish offset above the swing plane', value: deg(g.dishOffsetDeg) },
      )
      break
    case 'x-y':
      lines.push(
        { label: 'Heading of the mount', value: deg(g.headingDeg ?? 0) },
        { label: 'X axis, forward end: elevation', value: deg(g.lowerAxis.elDeg) },
        { label: 'Dish, right of square', value: deg(g.dishOffsetDeg) },
      )
      break
  }
  return [...lines, ...axisLines(station, solution, g, 'lower'), ...axisLines(station, solution, g, 'upper')]
}

export function slopeLines(station: StationRecord, fit: { lower: SlopeOffset; upper: SlopeOffset }): CopiedLine[] {
  return (['lower', 'upper'] as const).flatMap(axis => {
    const name = word(AXIS_NAMES[station.mount.kind][axis])
    return [
      { label: `${name}: slope`, value: fixed(fit[axis].slope, 4) },
      { label: `${name}: offset`, value: deg(fit[axis].offsetDeg) },
    ]
  })
}

export const virtualLines = (station: StationRecord, v: NonNullable<Controller['virtualSite']>): CopiedLine[] => [
  { label: 'Latitude, north +', value: deg(v.latDeg, 4) },
  { label: 'Longitude, east +', value: deg(v.lonDeg, 4) },
  { label: 'Add to the azimuth there', value: deg(v.azimuthTurnDeg) },
  ...slopeLines(station, v),
]

export function poleLines(station: StationRecord, pole: NonNullable<Controller['pole']>): CopiedLine[] {
  const [slope, zero, ...declination] = slopeLines(station, pole)
  return [
    { label: 'Axis, upper end: azimuth', value: deg(pole.azDeg) },
    { label: 'Axis, upper end: elevation', value: deg(pole.elDeg) },
    slope!,
    { ...zero!, label: 'Hour-angle zero: then add' },
    ...declination,
  ]
}

/** Plain text: keyboard minus, ordinary spaces. */
export const plain = (text: string): string => text.replaceAll(MINUS, '-').replaceAll(NBSP, ' ')

/** @param feed  which one it is for, where there are several */
export const copyOf = (
  station: StationRecord,
  title: string,
  lines: readonly CopiedLine[],
  feed: string | null,
): string =>
  plain(
    [
      `${seenText(station.name)}: ${title}`,
      ...(feed === null ? [] : [feed]),
      ...lines.map(l => `${l.label}: ${l.value}`),
      '',
    ].join('\n'),
  )

/** Tab-separated: it pastes into a spreadsheet as columns. */
export const tableText = (table: CountsTable): string =>
  plain(
    [
      'counts\tangle_deg\tpaper_deg\tsigma_deg',
      ...table.rows.map(r =>
        [
          String(r.reading),
          r.angleDeg.toFixed(3),
          r.paperDeg === null ? '' : r.paperDeg.toFixed(3),
          r.sigmaDeg.toFixed(3),
        ].join('\t'),
      ),
      '',
    ].join('\n'),
  )

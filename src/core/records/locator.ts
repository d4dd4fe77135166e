/**
 * Maidenhead locators: a place on Earth in two to eight characters. Degrees, since it is what people write; latitude and
 * longitude on WGS 84, east positive. A field is 20° × 10°, a square 2° × 1°, a subsquare 5′ × 2.5′, an extended square
 * 30″ × 15″ (longitude × latitude). Source: IARU Region 1, Maidenhead 1980; on WGS 84 since 1999.
 */
import type { Deg } from '../units.ts'
import { type Answer, no, yes } from './answer.ts'

interface LocatedPlace {
  /** The centre of the cell. */
  latDeg: Deg
  lonDeg: Deg
  /** From the centre to the edges: half the cell's height and width. */
  halfLatDeg: Deg
  halfLonDeg: Deg
}

/** How often each pair of characters divides the cell before it: 18 fields, 10 squares, 24 subsquares, 10 more. */
const DIVISIONS = [18, 10, 24, 10] as const
const FIRST = ['A', '0', 'a', '0'] as const

export type LocatorLength = 2 | 4 | 6 | 8

/**
 * The locator of a place; a place on the border of two cells belongs to the one to its north or east, and the north pole
 * and 180° E to the last one.
 *
 * @param latDeg  -90 to 90
 * @param lonDeg  -180 to 180
 * @throws RangeError  a place that is not on Earth
 */
export function locatorFromPlace(latDeg: Deg, lonDeg: Deg, length: LocatorLength = 6): string {
  if (!(Math.abs(latDeg) <= 90 && Math.abs(lonDeg) <= 180))
    throw new RangeError(`locatorFromPlace: must be a place on Earth, got ${latDeg}, ${lonDeg}`)
  const cells = DIVISIONS.slice(0, length / 2).reduce((a, n) => a * n, 1)
  // 1e-9 of a cell: 11.625° must not fall below a border by its last binary digit.
  const cellOf = (share: number) => Math.min(cells - 1, Math.floor(share * cells + 1e-9))
  let lon = cellOf((lonDeg + 180) / 360)
  let lat = cellOf((latDeg + 90) / 180)
  let text = ''
  for (let pair = length / 2 - 1; pair >= 0; pair--) {
    const n = DIVISIONS[pair]!
    const first = FIRST[pair]!.charCodeAt(0)
    text = String.fromCharCode(first + (lon % n), first + (lat % n)) + text
    lon = Math.floor(lon / n)
    lat = Math.floor(lat / n)
  }
  return text
}

/** The centre of the cell that a locator of 2, 4, 6 or 8 characters names; capitals or not. */
export function placeFromLocator(text: string): Answer<LocatedPlace> {
  const plain = text.trim().toUpperCase()
  if (plain === '') return no('locator', 'There is no locator yet.')
  if (plain.length % 2 !== 0 || plain.length > 8)
    return no('locator', 'A locator has 2, 4, 6 or 8 characters, such as JN58 or JN58td.')
  let lon = 0
  let lat = 0
  let cells = 1
  for (let pair = 0; pair < plain.length / 2; pair++) {
    const n = DIVISIONS[pair]!
    const first = FIRST[pair]!.toUpperCase().charCodeAt(0)
    const [east, north] = [plain.charCodeAt(2 * pair) - first, plain.charCodeAt(2 * pair + 1) - first]
    if (!(east >= 0 && east < n && north >= 0 && north < n)) {
      const last = String.fromCharCode(first + n - 1)
      const where = ['first', 'second', 'third', 'fourth'][pair]!
      return no('locator', `The ${where} pair goes from ${FIRST[pair]!.toUpperCase()} to ${last}.`)
    }
    lon = lon * n + east
    lat = lat * n + north
    cells *= n
  }
  return yes({
    latDeg: ((lat + 0.5) / cells) * 180 - 90,
    lonDeg: ((lon + 0.5) / cells) * 360 - 180,
    halfLatDeg: 90 / cells,
    halfLonDeg: 180 / cells,
  })
}

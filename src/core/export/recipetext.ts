/**
 * The recipe as plain text, complete by itself: conventions, numbers, equations both ways, ten check points, cautions. Lines end
 * in LF; every number is a line `name = value`, the same digits as in the JSON.
 */
import type { MountKind } from '../mount/names.ts'
import { quoted } from '../records/shown.ts'
import type { WhyNot } from '../records/solution.ts'
import { plainFixed } from './csv.ts'
import type { Recipe } from './recipe.ts'
import type { RecipeAxis } from './recipeaxis.ts'

const KINDS: Record<MountKind, string> = {
  'el-over-az': 'elevation over azimuth',
  'ha-dec': 'hour angle (west +) and declination',
  'az-over-el': 'swing over tilt (to the right +)',
  'x-y': 'X (to the right +) and Y (forward +), both 0 at the zenith',
}

const WHY_NOT: Record<WhyNot['kind'], string> = {
  'no-sightings': 'no sighting counts yet',
  'all-aside': 'every sighting was set aside',
  suspect: 'something is suspected, see the app',
  'most-aside': 'too many sightings were set aside',
  'out-of-reach': 'the Moon does not come within reach',
  loss: 'the loss may be more than is allowed',
}

const valueAt = (recipe: Recipe, path: string): unknown =>
  path.split('.').reduce<unknown>((at, key) => (at as Record<string, unknown>)[key], recipe)

const numberText = (value: unknown): string => (Array.isArray(value) ? `(${value.join(', ')})` : String(value))

/** `name = value   what it is` */
const line = (name: string, value: unknown, what: string): string =>
  `  ${`${name} = ${numberText(value)}`.padEnd(24)}   ${what}`

/** Two digits: nobody can act on more of a σ. */
const about = (sigma: number): string => String(Number(sigma.toPrecision(2)))

/** Names from a file, on one line and without control characters: the reader has only the page. */
const named = (text: string): string => quoted(text, 60)

function stateLines({ state }: Recipe): string[] {
  const verdict = state.within
    ? 'within tolerance'
    : `not within tolerance: ${state.whyNot.map(why => WHY_NOT[why]).join('; ')}`
  // Beyond half a beamwidth the parabola no longer holds, and there is no figure.
  const loss =
    state.echoLossP95Db > 24.08 / 4
      ? 'the beam may miss the Moon'
      : `echoes lose up to ${plainFixed(state.echoLossP95Db, 1)} dB`
  return [
    `State:     ${verdict}`,
    ...(state.moonHours === 0
      ? []
      : [
          `           ${state.sightingsUsed} sightings used; for 95 % of Moon time, with 90 % confidence, the error is below`,
          `           ${plainFixed(state.p95Deg, 2)} deg (allowed ${plainFixed(state.toleranceDeg, 2)}): ${loss}, allowed ${state.allowedEchoLossDb} dB`,
        ]),
  ]
}

const headLines = (recipe: Recipe): string[] => {
  const { site, feed, air, paper } = recipe
  return [
    'MOONPLUMB RECIPE 1',
    `Station:   ${named(recipe.station)}, latitude ${site.latDeg} (north +), longitude ${site.lonDeg} (east +), ${site.heightM} m`,
    `Mount:     ${KINDS[paper.kind]}${paper.headingDeg === null ? '' : `, faces ${paper.headingDeg} deg as entered`}${
      paper.dishOffsetDeg === null ? '' : `, dish ${paper.dishOffsetDeg} deg above the swing plane`
    }`,
    `Feed:      ${named(feed.name)}, ${feed.frequencyMHz} MHz, beamwidth ${plainFixed(feed.beamwidthDeg, 2)} deg`,
    `Made:      ${recipe.madeUtc}, for the setup ${recipe.setupFromUtc === null ? 'as first described' : `since ${recipe.setupFromUtc}`}`,
    `Air:       ${plainFixed(air.pressureHPa, 0)} hPa, ${plainFixed(air.temperatureC, 0)} deg C, ${plainFixed(air.humidityPct, 0)} % humidity`,
    ...stateLines(recipe),
  ]
}

/** Numbers that are given elsewhere, or that turn no vector. */
const IS_OF_AXIS = /^(lower|upper)(Zero|Scale|BaseArm|RodArm|Play)$/
/** Needed only for a change. */
const isPaper = (path: string): boolean => path.startsWith('paper.')

function pointLines({ axes, checkPoints }: Recipe): string[] {
  if (checkPoints.length === 0) return ['The mount reaches no direction within its limits: there are none.']
  const reading = (axis: RecipeAxis, x: number): string => plainFixed(x, axis.unit === 'counts' ? 2 : 4)
  const row = (cells: readonly string[]): string => `  ${cells.map(c => c.padStart(11)).join('')}`
  const elsewhere = checkPoints.filter(p => !p.onMoonPath).length
  return [
    `reading1 is ${axes.lower.name} in ${axes.lower.unit}, reading2 ${axes.upper.name} in ${axes.upper.unit}; the rest in degrees,`,
    'el as the dish sees it, h the same place without air.',
    ...(elsewhere === 0
      ? []
      : [`The last column is * where the Moon does not come in the coming month (${elsewhere}), but the mount does.`]),
    row(['az', 'el', 'h', 'T', 'S', 'reading1', 'reading2']),
    ...checkPoints.map(
      p =>
        `${row([
          plainFixed(p.azDeg, 3),
          plainFixed(p.elDeg, 3),
          plainFixed(p.airlessElDeg, 4),
          plainFixed(p.lowerTrueDeg, 4),
          plainFixed(p.upperTrueDeg, 4),
          reading(axes.lower, p.lower),
          reading(axes.upper, p.upper),
        ])}${p.onMoonPath ? '' : ' *'}`,
    ),
  ]
}

function cautionLines({ axes }: Recipe): string[] {
  const sides = [axes.lower, axes.upper].flatMap(({ name, arriveFrom }) =>
    arriveFrom === null
      ? []
      : [`Arrive on ${name} with the reading going ${arriveFrom === '+' ? 'up' : 'down'}, as was said for this mount.`],
  )
  return [
    'First automatic move: somebody at the switch, nobody near the dish. First drive each axis to both',
    'limits by hand: the limit switches must stop it. Then a few degrees by your program, and watch which',
    'way it goes. Check the ten points before anything moves. Never command a reading outside the limits.',
    'A dish pointed at the Sun burns what is at the feed. Keep the transmitter off while people are near.',
    ...sides,
    'Once bolts were turned, a counter was set or the feed was moved, make this recipe again.',
  ]
}

/** A heading with a blank line before it. */
const section = (title: string, lines: readonly string[]): string[] => ['', title, ...lines]

export function recipeTextOf(recipe: Recipe): string {
  const { symbols, conventions, forward, inverse, air, origin } = recipe.equations
  const numbers = (onPaper: boolean) =>
    symbols.filter(s => isPaper(s.path) === onPaper).map(s => line(s.name, valueAt(recipe, s.path), s.what))
  const deviations = recipe.deviations
    .filter(d => !IS_OF_AXIS.test(d.id))
    .map(d => line(d.id, d.value, `${d.unit}, sigma ${about(d.sigma)}: ${d.label}`))
  return [
    ...headLines(recipe),
    ...section('CONVENTIONS', conventions),
    ...section(
      `NUMBERS (1 is the lower axis, ${recipe.axes.lower.name}; 2 the upper, ${recipe.axes.upper.name})`,
      numbers(false),
    ),
    ...section('FROM READINGS TO A DIRECTION', forward),
    ...section('FROM A DIRECTION TO READINGS', inverse),
    ...section('AIR', air),
    ...section('CHECK POINTS', pointLines(recipe)),
    ...section('CAUTIONS', cautionLines(recipe)),
    ...section('WHERE P, Q, C AND DROOP COME FROM', [...origin, ...numbers(true), ...deviations]),
    '',
  ].join('\n')
}

/** The field report as plain text, complete by itself, lines ending in LF: to share, to print, to keep beside the mount. */
import { isBeamOffTarget } from '../dish/optics.ts'
import { subjectOf } from '../mount/parameters.ts'
import { METHOD_WORDS } from '../records/methodwords.ts'
import { quoted } from '../records/shown.ts'
import type { ParameterState, SolvedParameter, WhyNot } from '../records/solution.ts'
import { plainFixed } from './csv.ts'
import type { MeasuredRow, Report } from './report.ts'
import { REPORT_CAUTIONS } from './reportcautions.ts'

const MOUNTS: Readonly<Record<Report['mount']['kind'], string>> = {
  'el-over-az': 'azimuth and elevation',
  'ha-dec': 'polar: hour angle and declination',
  'az-over-el': 'tilt, then swing',
  'x-y': 'X and Y',
}
const LEVELS: Readonly<Record<Extract<MeasuredRow, { of: 'levels' }>['what'], string>> = {
  'lower-axis-elevation': 'level of the lower axis',
  'upper-axis-elevation': 'level of the upper axis',
  'mast-lean': "mast's lean",
  'dish-elevation': "dish's elevation",
}
const STATES: Readonly<Record<ParameterState, string>> = {
  settled: 'known well enough',
  'as measured': 'as measured',
  open: 'not known yet',
}
const WHY_NOT: Readonly<Record<WhyNot['kind'], string>> = {
  'no-sightings': 'no sighting counts yet',
  'all-aside': 'every sighting was set aside',
  suspect: 'something is suspected',
  'most-aside': 'too many sightings were set aside',
  'out-of-reach': 'the Moon does not come within reach',
  loss: 'the loss may be more than is allowed',
}

const named = (text: string): string => quoted(text, 500)
const times = (n: number, what: string): string => `${n} ${what}${n === 1 ? '' : 's'}`
const span = ({ least, most }: { least: number; most: number }): string =>
  plainFixed(least, 2) === plainFixed(most, 2)
    ? `+-${plainFixed(most, 2)} deg`
    : `+-${plainFixed(least, 2)} to ${plainFixed(most, 2)} deg`

function measuredLine(row: MeasuredRow): string {
  switch (row.of) {
    case 'sightings': {
      const bodies = [
        row.sun > 0 && `Sun ${row.sun}`,
        row.moon > 0 && `Moon ${row.moon}`,
        row.count > row.sun + row.moon && `others ${row.count - row.sun - row.moon}`,
      ].filter(text => text !== false)
      const not = [row.aside > 0 && `${row.aside} set aside`, row.excluded > 0 && `${row.excluded} left out`]
      const counted = [`${row.used} used`, ...not.filter(text => text !== false)].join(', ')
      return `${METHOD_WORDS[row.method]}: ${times(row.count, 'sighting')} (${bodies.join(', ')}), ${counted}${row.sigmaDeg ? `, each ${span(row.sigmaDeg)}` : ''}`
    }
    case 'levels':
      return `${LEVELS[row.what]}: ${row.count}, each ${span(row.sigmaDeg)}`
    case 'references':
      return `fixed marks: ${times(row.count, 'reading')}`
  }
}

const UNITS = { deg: 'deg', mm: 'mm', ratio: '%' } as const

/** Two digits of the σ, and as many decimals of the value. */
function parameterLine(p: SolvedParameter, { mount, site }: Report): string {
  const { what, senses } = subjectOf(p.id, { kind: mount.kind, latitude: site.latDeg })
  const k = p.unit === 'ratio' ? 100 : 1
  const [value, sigma] = [k * p.value, k * p.sigma]
  const decimals = sigma > 0 ? Math.min(6, Math.max(0, 1 - Math.floor(Math.log10(sigma)))) : 2
  const unit = UNITS[p.unit]
  const sided = (x: number) => {
    const size = plainFixed(Math.abs(x), decimals)
    return `${size} ${unit}${Number(size) === 0 ? '' : ` ${senses[x < 0 ? 0 : 1]}`.trimEnd()}`
  }
  // An open one is a range that holds the true value 19 times in 20, and no result.
  const told =
    p.state === 'open'
      ? p.unit === 'deg' && 4 * sigma > 360
        ? 'anything'
        : `between ${sided(value - 2 * sigma)} and ${sided(value + 2 * sigma)}`
      : `${sided(value)}, +- ${plainFixed(sigma, decimals)} ${unit}`
  return `${what}: ${told} (${STATES[p.state]})`
}

function leftLines({ solution, allowedEchoLossDb, worst }: Report): string[] {
  const { sky, fit } = solution
  const verdict = sky.within
    ? 'Within tolerance.'
    : `Not within tolerance: ${[...new Set(sky.whyNot.map(w => WHY_NOT[w.kind]))].join('; ')}.`
  if (sky.hours === 0 || fit.used === 0) return [verdict]
  const loss = (db: number) =>
    isBeamOffTarget(db) ? 'the beam may miss the Moon' : `${plainFixed(db, 2)} dB lost on echoes`
  return [
    verdict,
    `for 95 % of Moon time, with 90 % confidence: below ${plainFixed(sky.after.p95Deg, 2)} deg, ${loss(sky.echoLossP95Db)}`,
    `(allowed ${plainFixed(sky.toleranceDeg, 2)} deg, ${allowedEchoLossDb} dB; with the mount as entered ${plainFixed(sky.before.p95Deg, 2)} deg).`,
    `Worst: ${plainFixed(sky.after.worstDeg, 2)} deg, ${loss(sky.echoLossWorstDb)}${
      worst ? `, at azimuth ${plainFixed(worst.azDeg, 0)}, elevation ${plainFixed(worst.elDeg, 0)} deg` : ''
    }.`,
    `Sightings fit to ${plainFixed(fit.rmsDeg, 2)} deg rms, misfit ${plainFixed(fit.misfit, 2)} (1 expected).`,
  ]
}

const section = (title: string, lines: readonly string[], none = 'none'): string[] => [
  '',
  title,
  ...(lines.length === 0 ? [none] : lines).map(line => `  ${line}`),
]

const carriedText = (carried: Report['carried']): string =>
  carried === null
    ? 'not noted that these numbers were put into a tracking program'
    : `numbers put into the tracking program on ${carried.utc}${carried.isAltered ? ', before the last change of the mount' : ''}${carried.note ? `, ${named(carried.note)}` : ''}`

/** @param program  its name and version */
export function reportTextOf(report: Report, program: string): string {
  const { site, dish, feed, mount, solution, changes, measuredUtc } = report
  return `${[
    'MOONPLUMB FIELD REPORT',
    `Station:  ${named(report.station)}`,
    `Site:     latitude ${site.latDeg} (north +), longitude ${site.lonDeg} (east +), ${site.heightM} m`,
    `Dish:     ${dish.diameterM} m, f/D ${dish.focalRatio}${dish.fed === 'offset' ? ', offset feed' : ''}`,
    `Feed:     ${named(feed.name)}, ${feed.frequencyMHz} MHz, beamwidth ${plainFixed(feed.beamwidthDeg, 2)} deg`,
    `Mount:    ${MOUNTS[mount.kind]}${'headingDeg' in mount && mount.headingDeg !== undefined ? `, faces ${mount.headingDeg} deg as entered` : ''}`,
    `Setup:    ${solution.setupFromUtc === null ? 'as first described' : `since ${solution.setupFromUtc}`}`,
    `Program:  ${carriedText(report.carried)}`,
    `Made:     ${report.madeUtc} by ${program}`,
    ...section('WHAT REMAINS', leftLines(report)),
    ...section(
      'STILL SUSPECTED',
      report.suspects.flatMap(s => [named(s.text).slice(1, -1), `  to settle it: ${named(s.settle).slice(1, -1)}`]),
      solution.fit.used > 0 ? 'nothing' : 'not known yet: no sighting to judge by',
    ),
    ...section(
      `MEASURED${measuredUtc === null ? '' : `, ${measuredUtc.from} to ${measuredUtc.to}`}`,
      report.measured.map(measuredLine),
      'nothing yet',
    ),
    ...section(
      'THE MOUNT AS BUILT, against what was entered',
      solution.parameters.map(p => parameterLine(p, report)),
    ),
    ...section(
      'CHANGES, the latest first',
      changes
        .slice(0, 5)
        .map(c => `${c.utc}: ${named(c.what.join(', ')).slice(1, -1)}${c.note ? `, ${named(c.note)}` : ''}`),
    ),
    ...section('CAUTION', REPORT_CAUTIONS),
  ].join('\n')}\n`
}

/**
 * The equations of a recipe, in a form that any language takes: one line a step, names as in the list of symbols. Only what this
 * mount's kind and readouts need.
 */
import { AXES, type Axis, type MountKind } from '../mount/names.ts'
import { lowerAxisIds } from '../mount/slots.ts'
import type { RecipeAxis } from './recipeaxis.ts'

export interface Equations {
  /** Each name in the equations: where its number stands in the file, and what it is. */
  symbols: { name: string; path: string; what: string }[]
  conventions: string[]
  /** Readings → direction. */
  forward: string[]
  /** Direction → readings. */
  inverse: string[]
  /** From a place without air to the apparent one. */
  air: string[]
  /** Where P, Q, C and droop come from. */
  origin: string[]
}

type Axes = Record<Axis, RecipeAxis>
const NUMBER = { lower: 1, upper: 2 } as const

function symbolsOfAxis(axis: Axis, { name, unit, readout, playDeg }: RecipeAxis): Equations['symbols'] {
  const n = NUMBER[axis]
  const of = (symbol: string, key: string, what: string) => ({
    name: `${symbol}${n}`,
    path: `axes.${axis}.${key}`,
    what,
  })
  const read = (symbol: string, key: string, what: string) => of(symbol, `readout.${key}`, what)
  const readouts: Record<typeof readout.type, Equations['symbols']> = {
    degrees: [],
    'linear-counts': [
      read('counts', 'zeroCounts', 'counts where the readout has 0 deg'),
      read('perDeg', 'countsPerDeg', 'counts per degree'),
    ],
    jack: [
      read('base', 'baseArmMm', 'mm, pivot to the fixed end of the jack, corrected'),
      read('rod', 'rodArmMm', 'mm, pivot to the rod end of the jack, corrected'),
      read('length', 'lengthAtReadingZeroMm', 'mm, pin to pin at reading 0'),
      read('perMm', 'countsPerMm', 'counts per mm'),
      read('phi', 'phiAtAngleZeroDeg', 'deg at the pivot where the readout has 0 deg'),
      read('dir', 'direction', '1: angle grows with the length, -1: it shrinks'),
    ],
  }
  return [
    ...readouts[readout.type],
    of('shift', 'shift', `${unit} to add to a reading (a counter that slipped)`),
    ...(readout.type === 'jack' ? [] : [of('scale', 'scale', 'the axis turns 1 + scale times what is read')]),
    of('zero', 'zeroDeg', 'deg, true angle where the readout has 0 deg'),
    ...(playDeg === 0 ? [] : [of('play', 'playDeg', 'deg of lost motion')]),
    of('min', 'minReading', `lower limit of the ${name} reading`),
    of('max', 'maxReading', 'upper limit'),
    of('mid', 'middleDeg', 'deg, true angle in the middle of the limits'),
  ]
}

const symbolsOf = (headed: boolean, axes: Axes): Equations['symbols'] => [
  { name: 'P', path: 'built.lowerAxis', what: 'lower axis as built' },
  { name: 'Q', path: 'built.upperAxis', what: 'upper axis as built, at T = 0' },
  { name: 'C', path: 'built.beam', what: 'beam at T = 0, S = 0, before droop' },
  { name: 's1', path: 'built.lowerSense', what: 'sense of T about P' },
  { name: 's2', path: 'built.upperSense', what: 'sense of S about Q' },
  { name: 'droop', path: 'built.droopDeg', what: 'deg, the beam sinks by droop cos(el)' },
  { name: 'droopRounds', path: 'built.rounds', what: 'rounds that undo the droop to 0.000001 deg' },
  { name: 'N', path: 'air.refractivity', what: 'refractivity of the air here, parts per million' },
  { name: 'airRounds', path: 'air.rounds', what: 'rounds that lift a place to 0.000001 deg' },
  ...AXES.flatMap(axis => symbolsOfAxis(axis, axes[axis])),
  { name: 'A1', path: 'paper.lowerAxis', what: 'lower axis as entered' },
  { name: 'A2', path: 'paper.upperAxis', what: 'upper axis as entered' },
  { name: 'B0', path: 'paper.beam', what: 'beam as entered' },
  { name: 'U0', path: 'paper.up', what: 'UP mark as entered' },
  ...(headed
    ? []
    : [
        { name: 'D1', path: 'paper.leansToward.0', what: 'where the first lean goes' },
        { name: 'D2', path: 'paper.leansToward.1', what: 'where the second lean goes' },
      ]),
  { name: 'f', path: 'paper.focalLengthMm', what: 'mm, focal length' },
  { name: 'bdf', path: 'paper.beamDeviationFactor', what: 'the beam moves by bdf times the angle of the feed' },
]

const CONVENTIONS = [
  'All angles are in degrees, in sin, cos, asin, acos, atan, atan2 too; lengths in mm.',
  'A vector is (east, north, up) at the site, right-handed: east x north = up.',
  'Azimuth az counts from true north through east, elevation el from the horizon.',
  'vec(az, el) = (cos(el) sin(az), cos(el) cos(az), sin(el))',
  'dot(a, b) = a_e b_e + a_n b_n + a_u b_u',
  'cross(a, b) = (a_n b_u - a_u b_n, a_u b_e - a_e b_u, a_e b_n - a_n b_e)',
  'rot(v, a, t) = v cos(t) + cross(a, v) sin(t) + a dot(a, v) (1 - cos(t)): v turned by t',
  '  about the unit vector a, right-handed (thumb along a, fingers show the way)',
  'atan2(y, x) is the angle whose sine goes as y and cosine as x, -180 to 180.',
  'T, S are the true angles of the lower and the upper axis; reading1, reading2 what they show.',
]

function angleFromReading(axis: Axis, { readout }: RecipeAxis): string[] {
  const n = NUMBER[axis]
  const x = `(reading${n} + shift${n})`
  switch (readout.type) {
    case 'degrees':
      return [`angle${n} = reading${n} + shift${n}`]
    case 'linear-counts':
      return [`angle${n} = (reading${n} + shift${n} - counts${n}) / perDeg${n}`]
    case 'jack':
      return [
        `long${n} = length${n} + ${x} / perMm${n}; no angle unless |base${n} - rod${n}| < long${n} < base${n} + rod${n}`,
        `angle${n} = dir${n} (acos((base${n}^2 + rod${n}^2 - long${n}^2) / (2 base${n} rod${n})) - phi${n})`,
      ]
  }
}

function readingFromAngle(axis: Axis, { readout }: RecipeAxis): string[] {
  const n = NUMBER[axis]
  switch (readout.type) {
    case 'degrees':
      return [`reading${n} = angle${n} - shift${n}`]
    case 'linear-counts':
      return [`reading${n} = angle${n} perDeg${n} + counts${n} - shift${n}`]
    case 'jack':
      return [
        `corner${n} = dir${n} angle${n} + phi${n}; no reading unless 0 < corner${n} < 180`,
        `long${n} = sqrt(base${n}^2 + rod${n}^2 - 2 base${n} rod${n} cos(corner${n}))`,
        `reading${n} = (long${n} - length${n}) perMm${n} - shift${n}`,
      ]
  }
}

const hasPlay = (axes: Axes): boolean => AXES.some(axis => axes[axis].playDeg !== 0)

const forward = (axes: Axes): string[] => [
  '1. The angle that each readout stands for:',
  ...AXES.flatMap(axis => angleFromReading(axis, axes[axis]).map(line => `   ${line}`)),
  '2. The true angles:',
  ...AXES.map(axis => {
    const n = NUMBER[axis]
    return `   ${'TS'[n - 1]} = angle${n} ${axes[axis].readout.type === 'jack' ? '' : `(1 + scale${n}) `}+ zero${n}`
  }),
  ...(hasPlay(axes)
    ? [
        '   With play: + play/2 where the reading went up to arrive, - play/2 where it went down.',
        '   The check points leave play aside.',
      ]
    : []),
  '3. The beam before droop: b = rot(rot(C, Q, s2 S), P, s1 T)',
  '4. e = atan2(b_u, sqrt(b_e^2 + b_n^2)), az = atan2(b_e, b_n), add 360 if below 0',
  '5. el = e - droop cos(e)',
]

const inverse = (axes: Axes): string[] => [
  '1. Take the droop out: e = el, then e = el + droop cos(e), again and again; droopRounds times is',
  '   enough for 0.000001 deg. (0 times: there is no droop, e = el.)',
  '2. t = vec(az, e), z = dot(P, t)',
  '3. The upper axis. k = dot(P, Q), m = dot(Q, C)',
  '   a = dot(P, C) - k m, b = dot(P, cross(Q, C))',
  '   x = (z - k m) / sqrt(a^2 + b^2)',
  '   x above 1 or below -1: no pose points there. (Within 1e-9 of it take 1 or -1.)',
  '   There are two ways: turn = atan2(b, a) + acos(x) and turn = atan2(b, a) - acos(x).',
  '4. For each of the two: S = s2 turn, brought to between -180 and 180 by whole turns',
  '   g = rot(C, Q, turn), the beam at T = 0',
  '   T = s1 atan2(dot(P, cross(g, t)), dot(g, t) - z dot(P, g))',
  '5. Whole turns: T and T + 360 i, S and S + 360 j are the same pose; try i, j = -2 to 2, since each',
  '   turn of each has a reading of its own.',
  ...(hasPlay(axes)
    ? [
        '   If you always arrive from one side, take play/2 from T, S first where the reading goes up, add it',
        '   where it goes down.',
      ]
    : []),
  `6. The angle that each readout has to show: ${AXES.map(axis => {
    const n = NUMBER[axis]
    const turned = `${'TS'[n - 1]} - zero${n}`
    return `angle${n} = ${axes[axis].readout.type === 'jack' ? turned : `(${turned}) / (1 + scale${n})`}`
  }).join(', ')}`,
  '7. The readings:',
  ...AXES.flatMap(axis => readingFromAngle(axis, axes[axis]).map(line => `   ${line}`)),
  '8. Keep the poses with min1 <= reading1 <= max1 and min2 <= reading2 <= max2 (let 0.000001 pass for',
  '   rounding). None: out of reach, do not move. Several: to begin with, the one with the least',
  '   (T - mid1)^2 + (S - mid2)^2; on the way, the one nearest to where T and S are.',
]

const AIR = [
  'Almanacs give places without air. Ask yours for topocentric places (seen from the site: the Moon is',
  'up to 1 deg off otherwise) without refraction, h the elevation, then:',
  '   lift(a) = 0.0000572957795 N / tan(a + 7.31 / (a + 4.4)), not below 0',
  '   el = h, then el = h + lift(el), again and again; airRounds times is enough for 0.000001 deg.',
  'The azimuth stays. Down to -1 deg; N is for radio, a program that lifts for light differs.',
]

const origin = (headed: boolean, [first, second]: readonly string[]): string[] => [
  'Not needed to point; for anyone who wants to change one number. What is not listed counts 0.',
  ...(headed
    ? ['R(v) = rot(rot(v, cross(A1, (0, 0, 1)), level), (0, 0, 1), -heading)']
    : [`W = ${first} cross(A1, D1) + ${second} cross(A1, D2)`, 'R(v) = rot(v, W / |W|, |W|), v itself if |W| = 0']),
  'P = R(A1)',
  'Q = R(A2 cos(squareness) + A1 sin(squareness))',
  'right = squintRight - bdf atan(feedRight / f), up = squintUp - bdf atan(feedUp / f)',
  'b1 = rot(B0, cross(B0, U0), up), b2 = rot(b1, U0, -right)',
  'C = R(rot(b2, cross(B0, A2) / |cross(B0, A2)|, collimation))',
  'droop = sag - 57.2957795131 bdf feedDroop / f',
]

export const equationsOf = (kind: MountKind, headed: boolean, axes: Axes): Equations => ({
  symbols: symbolsOf(headed, axes),
  conventions: CONVENTIONS,
  forward: forward(axes),
  inverse: inverse(axes),
  air: AIR,
  origin: origin(headed, lowerAxisIds(kind)),
})

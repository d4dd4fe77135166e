/**
 * The parameters of a mount as built, one entry each: everything that the program knows of one by its name. Slots, priors,
 * changes, levels, labels, advice and the rules of the file read this table (`parameters.ts`); what a parameter does to the
 * mount is geometry, in `asbuilt.ts` and `readings.ts`. Degrees, millimetres, ratios, as in the file.
 *
 * Entries stand in the order in which parameters are told: first what is off at the mount, then each feed's own.
 */
import { READOUTS, type Readout } from '../readout/readout.ts'
import type { Move, Part, Toward } from './moves.ts'
import type { Axis, MountKind } from './names.ts'

/** What a change record may name, beside `feed:ID`. */
export const CHANGES = [
  'all',
  'lower-axis',
  'lower-zero',
  'upper-zero',
  'lower-readout',
  'upper-readout',
  'dish',
  'tube',
] as const
export type ChangeName = (typeof CHANGES)[number]

/** Parameters of one family stay or go together, and share the words of a group. */
export type Family =
  | 'heading'
  | 'level'
  | 'lean'
  | 'pole'
  | 'zero'
  | 'scale'
  | 'arms'
  | 'dish'
  | 'feed'
  | 'squint'
  | 'tube'
  | 'play'

/** What the prior's σ depends on. */
export interface PaperMount {
  kind: MountKind
  lower: { readout: Pick<Readout, 'type'> }
  upper: { readout: Pick<Readout, 'type'> }
}

/** What the words depend on. */
export interface Where {
  kind: MountKind
  /** South of the equator. In the south the north-pole end points into the ground: what is seen is the other end, the other way. */
  south: boolean
  /** What the axes of this mount are called. */
  axes: { lower: string; upper: string }
}

type By<From, T> = T | ((from: From) => T)
/** [what is said below zero, what above]. */
export type Senses = readonly [minus: string, plus: string]

export interface ParameterEntry {
  id: string
  /** Its place in the flat array of a mount as built; entries of one slot exclude each other by kind of mount. */
  slot: string
  unit: 'deg' | 'mm' | 'ratio'
  family: Family
  /** Of zeros, scales, arms and play. */
  axis?: Axis
  /** Each feed has its own. */
  ofFeed?: true
  /** The kinds of mount that have it; all unless given. */
  kinds?: readonly MountKind[]
  /** The station has it only so: with a jack, without one, where a tube was sighted through or is known, where arrivals are noted. */
  needs?: 'jack' | 'no-jack' | 'tube' | 'arrivals'
  /** σ of the prior where nothing is known. */
  sigma: By<PaperMount, number>
  /** Farther from paper no mount is one. Default: 90°, 100 m, 0.9. */
  most?: number
  /** The changes that start it anew, beside 'all' and its feed's. */
  renewedBy: readonly ChangeName[]
  /** A person can see or tape it when the thing moves, and so may give an expectation of it. */
  judged?: true
  /** One line, without a full stop; the sense of + is in it. */
  label: By<Where, string>
  /** What is off, without its direction. */
  what: By<Where, string>
  senses: By<Where, Senses>
  /** [what undoes a positive value, what undoes a negative one]. */
  back?: By<Where, readonly [Move, Move]>
  /** Where no spanner reaches it: it bends, or it is slack. Neither: a number for the software. */
  besides?: 'stiffen' | 'slack'
}

const both = (part: Part, plus: Toward, minus: Toward): readonly [Move, Move] => [
  { part, toward: plus },
  { part, toward: minus },
]
/** An end is raised, not lowered: a shim goes in more easily than a concrete block goes down. */
const raised = (plus: Part, minus: Part): readonly [Move, Move] => [
  { part: plus, toward: 'up' },
  { part: minus, toward: 'up' },
]

const AZIMUTH = ['el-over-az'] as const
const POLAR = ['ha-dec'] as const
const TIPPED = ['az-over-el', 'x-y'] as const
const ZERO_SENSES = ['too much', 'too little'] as const

export const PARAMETERS = [
  {
    id: 'leanNorth',
    slot: 'axisA',
    unit: 'deg',
    family: 'lean',
    kinds: AZIMUTH,
    sigma: 5,
    renewedBy: ['lower-axis'],
    judged: true,
    label: 'azimuth axis leans toward north',
    what: 'Mast leans, north or south',
    senses: ['south', 'north'],
    back: both('mast', 'south', 'north'),
  },
  {
    id: 'leanEast',
    slot: 'axisB',
    unit: 'deg',
    family: 'lean',
    kinds: AZIMUTH,
    sigma: 5,
    renewedBy: ['lower-axis'],
    judged: true,
    label: 'azimuth axis leans toward east',
    what: 'Mast leans, east or west',
    senses: ['west', 'east'],
    back: both('mast', 'west', 'east'),
  },
  {
    id: 'poleEast',
    slot: 'axisA',
    unit: 'deg',
    family: 'pole',
    kinds: POLAR,
    sigma: 5,
    renewedBy: ['lower-axis'],
    judged: true,
    label: ({ south }) => `polar axis, upper end stands too far ${south ? 'west' : 'east'}`,
    what: 'Polar axis, upper end too far',
    senses: ({ south }) => (south ? ['east', 'west'] : ['west', 'east']),
    back: ({ south }) => (south ? both('polar-axis', 'east', 'west') : both('polar-axis', 'west', 'east')),
  },
  {
    id: 'poleUp',
    slot: 'axisB',
    unit: 'deg',
    family: 'pole',
    kinds: POLAR,
    sigma: 5,
    renewedBy: ['lower-axis'],
    judged: true,
    label: ({ south }) => `polar axis, upper end stands too ${south ? 'low' : 'high'}`,
    what: 'Polar axis, upper end too',
    senses: ({ south }) => (south ? ['high', 'low'] : ['low', 'high']),
    back: ({ south }) => (south ? both('polar-axis', 'up', 'down') : both('polar-axis', 'down', 'up')),
  },
  {
    id: 'heading',
    slot: 'axisA',
    unit: 'deg',
    family: 'heading',
    kinds: TIPPED,
    sigma: 180,
    most: 720,
    renewedBy: ['lower-axis'],
    judged: true,
    label: 'mount turned clockwise, seen from above',
    what: 'Mount stands turned, seen from above',
    senses: ['anticlockwise', 'clockwise'],
    back: both('mount', 'anticlockwise', 'clockwise'),
  },
  {
    id: 'level',
    slot: 'axisB',
    unit: 'deg',
    family: 'level',
    kinds: TIPPED,
    sigma: 3,
    renewedBy: ['lower-axis'],
    judged: true,
    label: ({ kind }) =>
      kind === 'x-y' ? 'X axis, forward end stands too high' : 'tilt axis, right-hand end stands too high',
    what: ({ kind }) => (kind === 'x-y' ? 'X axis, forward end' : 'Tilt axis, right-hand end'),
    senses: ['low', 'high'],
    back: ({ kind }) => (kind === 'x-y' ? raised('rear-end', 'forward-end') : raised('left-end', 'right-end')),
  },
  {
    id: 'lowerZero',
    slot: 'lowerZero',
    unit: 'deg',
    family: 'zero',
    axis: 'lower',
    // Azimuth is known from nothing but the sky.
    sigma: ({ kind, lower }) => (kind === 'el-over-az' ? 180 : READOUTS[lower.readout.type].zeroSigmaDeg),
    most: 720,
    renewedBy: ['lower-zero', 'lower-readout'],
    judged: true,
    label: ({ axes }) => `${axes.lower} zero: true angle larger than read`,
    what: ({ axes }) => `Zero: ${axes.lower} shows`,
    senses: ZERO_SENSES,
  },
  {
    id: 'upperZero',
    slot: 'upperZero',
    unit: 'deg',
    family: 'zero',
    axis: 'upper',
    sigma: ({ upper }) => READOUTS[upper.readout.type].zeroSigmaDeg,
    most: 720,
    renewedBy: ['upper-zero', 'upper-readout'],
    judged: true,
    label: ({ axes }) => `${axes.upper} zero: true angle larger than read`,
    what: ({ axes }) => `Zero: ${axes.upper} shows`,
    senses: ZERO_SENSES,
  },
  {
    id: 'lowerScale',
    slot: 'lowerScale',
    unit: 'ratio',
    family: 'scale',
    axis: 'lower',
    needs: 'no-jack',
    sigma: ({ lower }) => READOUTS[lower.readout.type].scaleSigma ?? 0,
    renewedBy: ['lower-readout'],
    label: ({ axes }) => `${axes.lower} scale: turns more than read`,
    what: ({ axes }) => `Scale: ${axes.lower} turns`,
    senses: ['less than read', 'more than read'],
  },
  {
    id: 'upperScale',
    slot: 'upperScale',
    unit: 'ratio',
    family: 'scale',
    axis: 'upper',
    needs: 'no-jack',
    sigma: ({ upper }) => READOUTS[upper.readout.type].scaleSigma ?? 0,
    renewedBy: ['upper-readout'],
    label: ({ axes }) => `${axes.upper} scale: turns more than read`,
    what: ({ axes }) => `Scale: ${axes.upper} turns`,
    senses: ['less than read', 'more than read'],
  },
  {
    id: 'lowerBaseArm',
    slot: 'lowerBaseArm',
    unit: 'mm',
    family: 'arms',
    axis: 'lower',
    needs: 'jack',
    sigma: 5,
    renewedBy: ['lower-readout'],
    label: ({ axes }) => `${axes.lower} jack, fixed arm longer than taped`,
    what: ({ axes }) => `Jack of ${axes.lower}, fixed arm`,
    senses: ['shorter than taped', 'longer than taped'],
  },
  {
    id: 'lowerRodArm',
    slot: 'lowerRodArm',
    unit: 'mm',
    family: 'arms',
    axis: 'lower',
    needs: 'jack',
    sigma: 5,
    renewedBy: ['lower-readout'],
    label: ({ axes }) => `${axes.lower} jack, rod arm longer than taped`,
    what: ({ axes }) => `Jack of ${axes.lower}, rod arm`,
    senses: ['shorter than taped', 'longer than taped'],
  },
  {
    id: 'upperBaseArm',
    slot: 'upperBaseArm',
    unit: 'mm',
    family: 'arms',
    axis: 'upper',
    needs: 'jack',
    sigma: 5,
    renewedBy: ['upper-readout'],
    label: ({ axes }) => `${axes.upper} jack, fixed arm longer than taped`,
    what: ({ axes }) => `Jack of ${axes.upper}, fixed arm`,
    senses: ['shorter than taped', 'longer than taped'],
  },
  {
    id: 'upperRodArm',
    slot: 'upperRodArm',
    unit: 'mm',
    family: 'arms',
    axis: 'upper',
    needs: 'jack',
    sigma: 5,
    renewedBy: ['upper-readout'],
    label: ({ axes }) => `${axes.upper} jack, rod arm longer than taped`,
    what: ({ axes }) => `Jack of ${axes.upper}, rod arm`,
    senses: ['shorter than taped', 'longer than taped'],
  },
  {
    id: 'squareness',
    slot: 'squareness',
    unit: 'deg',
    family: 'dish',
    sigma: 0.5,
    renewedBy: ['dish'],
    label: ({ kind, axes }) => `${axes.upper} axis leans toward the ${kind === 'ha-dec' ? 'polar' : axes.lower} axis`,
    what: ({ kind }) =>
      ({
        'el-over-az': 'Elevation axis, right-hand end',
        'ha-dec': 'Declination axis, west end too far',
        'az-over-el': 'Swing axis, top end leans',
        'x-y': 'Y axis, right-hand end too far',
      })[kind],
    senses: ({ kind }) =>
      (
        ({
          'el-over-az': ['low', 'high'],
          'ha-dec': ['south', 'north'],
          'az-over-el': ['left', 'right'],
          'x-y': ['back', 'forward'],
        }) as const
      )[kind],
    back: ({ kind }) =>
      ({
        'el-over-az': raised('upper-axis-left-end', 'upper-axis-right-end'),
        'ha-dec': both('upper-axis-west-end', 'south', 'north'),
        'az-over-el': both('upper-axis-top', 'left', 'right'),
        'x-y': both('upper-axis-right-end', 'back', 'forward'),
      })[kind],
  },
  {
    id: 'collimation',
    slot: 'collimation',
    unit: 'deg',
    family: 'dish',
    sigma: ({ kind }) => (kind === 'az-over-el' ? 1.5 : 0.5),
    renewedBy: ['dish'],
    judged: true,
    label: ({ kind }) =>
      kind === 'az-over-el'
        ? 'dish offset larger than on paper'
        : `dish looks to the ${kind === 'ha-dec' ? 'west' : 'right'} of square`,
    what: ({ kind }) =>
      kind === 'ha-dec'
        ? 'Dish looks off square, at the meridian'
        : kind === 'az-over-el'
          ? 'Dish offset, against paper'
          : 'Dish looks off square',
    senses: ({ kind }) =>
      kind === 'ha-dec' ? ['east', 'west'] : kind === 'az-over-el' ? ['down', 'up'] : ['left', 'right'],
    back: ({ kind }) =>
      kind === 'ha-dec'
        ? both('dish', 'east', 'west')
        : kind === 'az-over-el'
          ? both('dish', 'down', 'up')
          : both('dish', 'left', 'right'),
  },
  {
    id: 'sag',
    slot: 'sag',
    unit: 'deg',
    family: 'dish',
    sigma: 0.3,
    most: 20,
    renewedBy: ['dish'],
    label: 'dish droops, at the horizon',
    what: 'Dish droops, at the horizon',
    senses: ['up', 'down'],
    besides: 'stiffen',
  },
  {
    id: 'feedRight',
    slot: 'feedRight',
    unit: 'mm',
    family: 'feed',
    ofFeed: true,
    sigma: 10,
    renewedBy: [],
    judged: true,
    label: 'feed sits to the right',
    what: 'Feed, sideways',
    senses: ['left', 'right'],
    back: both('feed', 'left', 'right'),
  },
  {
    id: 'feedUp',
    slot: 'feedUp',
    unit: 'mm',
    family: 'feed',
    ofFeed: true,
    sigma: 10,
    renewedBy: [],
    judged: true,
    label: 'feed sits toward the UP mark',
    what: 'Feed, along the UP mark',
    senses: ['away from UP', 'toward UP'],
    back: both('feed', 'from-up-mark', 'up-mark'),
  },
  {
    id: 'feedDroop',
    slot: 'feedDroop',
    unit: 'mm',
    family: 'feed',
    ofFeed: true,
    sigma: 3,
    renewedBy: [],
    label: 'feed sinks, at the horizon',
    what: 'Feed sinks, at the horizon',
    senses: ['up', 'down'],
    besides: 'stiffen',
  },
  {
    id: 'squintRight',
    slot: 'squintRight',
    unit: 'deg',
    family: 'squint',
    ofFeed: true,
    sigma: 0.2,
    renewedBy: [],
    label: 'beam looks to the right for another cause',
    what: 'Beam off for another cause, sideways',
    senses: ['left', 'right'],
  },
  {
    id: 'squintUp',
    slot: 'squintUp',
    unit: 'deg',
    family: 'squint',
    ofFeed: true,
    sigma: 0.2,
    renewedBy: [],
    label: 'beam looks toward UP for another cause',
    what: 'Beam off for another cause, along the UP mark',
    senses: ['away from UP', 'toward UP'],
  },
  {
    id: 'tubeRight',
    slot: 'tubeRight',
    unit: 'deg',
    family: 'tube',
    needs: 'tube',
    sigma: 0.7,
    renewedBy: ['tube'],
    label: 'sighting tube looks to the right',
    what: 'Sighting tube, sideways',
    senses: ['left', 'right'],
    back: both('tube', 'left', 'right'),
  },
  {
    id: 'tubeUp',
    slot: 'tubeUp',
    unit: 'deg',
    family: 'tube',
    needs: 'tube',
    sigma: 0.7,
    renewedBy: ['tube'],
    label: 'sighting tube looks toward UP',
    what: 'Sighting tube, along the UP mark',
    senses: ['away from UP', 'toward UP'],
    back: both('tube', 'from-up-mark', 'up-mark'),
  },
  {
    id: 'lowerPlay',
    slot: 'lowerPlay',
    unit: 'deg',
    family: 'play',
    axis: 'lower',
    needs: 'arrivals',
    sigma: 0.5,
    renewedBy: [],
    label: ({ axes }) => `${axes.lower} play`,
    what: ({ axes }) => `Play of ${axes.lower}`,
    senses: ['', ''],
    besides: 'slack',
  },
  {
    id: 'upperPlay',
    slot: 'upperPlay',
    unit: 'deg',
    family: 'play',
    axis: 'upper',
    needs: 'arrivals',
    sigma: 0.5,
    renewedBy: [],
    label: ({ axes }) => `${axes.upper} play`,
    what: ({ axes }) => `Play of ${axes.upper}`,
    senses: ['', ''],
    besides: 'slack',
  },
] as const satisfies readonly ParameterEntry[]

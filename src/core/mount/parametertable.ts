/**
 * The parameters of a mount as built, one entry each: everything that the program knows about one by name. Slots, priors,
 * changes, levels, labels, advice and the rules of the file read this table (`parameters.ts`); what a parameter does to the
 * mount is geometry, in `asbuilt.ts` and `readings.ts`. Degrees, millimetres, ratios, as in the file.
 *
 * Entries stand in the order in which parameters are listed: first what is off at the mount, then each feed's own.
 */
import { READOUTS } from '../readout/readout.ts'
import type { Move, MovedPart, Toward } from './moves.ts'
import type { Axis } from './names.ts'
import type { ParameterEntry } from './parameterentry.ts'

const both = (part: MovedPart, plus: Toward, minus: Toward): readonly [Move, Move] => [
  { part, toward: plus },
  { part, toward: minus },
]
/** An end is raised, not lowered: a shim goes in more easily than a concrete block goes down. */
const raised = (plus: MovedPart, minus: MovedPart): readonly [Move, Move] => [
  { part: plus, toward: 'up' },
  { part: minus, toward: 'up' },
]

const AZIMUTH = ['el-over-az'] as const
const POLAR = ['ha-dec'] as const
const TIPPED = ['az-over-el', 'x-y'] as const

/** The entries that both axes share. */
const zeroOf = <A extends Axis>(axis: A) =>
  ({
    id: `${axis}Zero`,
    slot: `${axis}Zero`,
    unit: 'deg',
    family: 'zero',
    axis,
    // Azimuth is known from nothing but the sky.
    sigma: mount =>
      axis === 'lower' && mount.kind === 'el-over-az' ? 180 : READOUTS[mount[axis].readout.type].zeroSigmaDeg,
    most: 720,
    renewedBy: [`${axis}-zero`, `${axis}-readout`],
    judged: true,
    label: ({ axes }) => `${axes[axis]} zero: true angle larger than read`,
    what: ({ axes }) => `Zero: ${axes[axis]} shows`,
    senses: ['too much', 'too little'],
  }) as const satisfies ParameterEntry

const scaleOf = <A extends Axis>(axis: A) =>
  ({
    id: `${axis}Scale`,
    slot: `${axis}Scale`,
    unit: 'ratio',
    family: 'scale',
    axis,
    needs: 'no-jack',
    sigma: mount => READOUTS[mount[axis].readout.type].scaleSigma ?? 0,
    renewedBy: [`${axis}-readout`],
    label: ({ axes }) => `${axes[axis]} scale: turns more than read`,
    what: ({ axes }) => `Scale: ${axes[axis]} turns`,
    senses: ['less than read', 'more than read'],
  }) as const satisfies ParameterEntry

const armOf = <A extends Axis, B extends 'Base' | 'Rod'>(axis: A, arm: B, called: string) =>
  ({
    id: `${axis}${arm}Arm`,
    slot: `${axis}${arm}Arm`,
    unit: 'mm',
    family: 'arms',
    axis,
    needs: 'jack',
    sigma: 5,
    renewedBy: [`${axis}-readout`],
    label: ({ axes }) => `${axes[axis]} jack, ${called} longer than taped`,
    what: ({ axes }) => `Jack of ${axes[axis]}, ${called}`,
    senses: ['shorter than taped', 'longer than taped'],
  }) as const satisfies ParameterEntry

const playOf = <A extends Axis>(axis: A) =>
  ({
    id: `${axis}Play`,
    slot: `${axis}Play`,
    unit: 'deg',
    family: 'play',
    axis,
    needs: 'arrivals',
    sigma: 0.5,
    renewedBy: [],
    label: ({ axes }) => `${axes[axis]} play`,
    what: ({ axes }) => `Play of ${axes[axis]}`,
    senses: ['', ''],
    besides: 'slack',
  }) as const satisfies ParameterEntry

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
    short: 'lean, north',
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
    short: 'lean, east',
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
    short: 'pole, sideways',
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
    short: 'pole, height',
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
    what: 'Mount turned, seen from above',
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
  zeroOf('lower'),
  zeroOf('upper'),
  scaleOf('lower'),
  scaleOf('upper'),
  armOf('lower', 'Base', 'fixed arm'),
  armOf('lower', 'Rod', 'rod arm'),
  armOf('upper', 'Base', 'fixed arm'),
  armOf('upper', 'Rod', 'rod arm'),
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
    short: 'squareness',
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
        ? 'dish offset larger than entered'
        : `dish looks to the ${kind === 'ha-dec' ? 'west' : 'right'} of square`,
    what: ({ kind }) =>
      kind === 'ha-dec'
        ? 'Dish looks off square, at the meridian'
        : kind === 'az-over-el'
          ? 'Dish offset, against the entry'
          : 'Dish looks off square',
    short: 'dish offset',
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
    short: 'dish droop',
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
    short: 'feed, sideways',
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
    short: 'feed, along UP',
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
    short: 'feed droop',
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
    short: 'squint, sideways',
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
    short: 'squint, along UP',
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
    short: 'tube, sideways',
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
    short: 'tube, along UP',
    senses: ['away from UP', 'toward UP'],
    back: both('tube', 'from-up-mark', 'up-mark'),
  },
  playOf('lower'),
  playOf('upper'),
] as const satisfies readonly ParameterEntry[]

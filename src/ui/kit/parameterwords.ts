/** A parameter of the mount in plain words: what is off, and what its two directions are called on this mount. */
import type { MountRecord } from '../../core/records/fieldbook.ts'

/** [below zero, above zero] */
export type Senses = readonly [string, string]

export interface Subject {
  /** What is off, without its direction. */
  what: string
  senses: Senses
}

/** How one parameter is told: the thing, and its two directions. */
export function subjectOf(
  id: string,
  mount: Pick<MountRecord, 'kind'>,
  latDeg: number,
  axes: { lower: string; upper: string },
  feed: string | null,
): Subject {
  const isSouth = latDeg < 0
  const of = feed === null ? '' : ` (${feed})`
  const lower = axes.lower
  const upper = axes.upper
  switch (id) {
    case 'leanNorth':
      return { what: 'Mast leans, north or south', senses: ['south', 'north'] }
    case 'leanEast':
      return { what: 'Mast leans, east or west', senses: ['west', 'east'] }
    case 'poleEast':
      return { what: 'Polar axis, upper end too far', senses: isSouth ? ['east', 'west'] : ['west', 'east'] }
    case 'poleUp':
      return { what: 'Polar axis, upper end too', senses: isSouth ? ['high', 'low'] : ['low', 'high'] }
    case 'heading':
      return { what: 'Mount stands turned, seen from above', senses: ['anticlockwise', 'clockwise'] }
    case 'level':
      return {
        what: mount.kind === 'x-y' ? 'X axis, forward end' : 'Tilt axis, right-hand end',
        senses: ['low', 'high'],
      }
    case 'lowerZero':
      return { what: `Zero: ${lower} shows`, senses: ['too much', 'too little'] }
    case 'upperZero':
      return { what: `Zero: ${upper} shows`, senses: ['too much', 'too little'] }
    case 'lowerScale':
      return { what: `Scale: ${lower} turns`, senses: ['less than read', 'more than read'] }
    case 'upperScale':
      return { what: `Scale: ${upper} turns`, senses: ['less than read', 'more than read'] }
    case 'lowerBaseArm':
      return { what: `Jack of ${lower}, fixed arm`, senses: ['shorter than taped', 'longer than taped'] }
    case 'lowerRodArm':
      return { what: `Jack of ${lower}, rod arm`, senses: ['shorter than taped', 'longer than taped'] }
    case 'upperBaseArm':
      return { what: `Jack of ${upper}, fixed arm`, senses: ['shorter than taped', 'longer than taped'] }
    case 'upperRodArm':
      return { what: `Jack of ${upper}, rod arm`, senses: ['shorter than taped', 'longer than taped'] }
    case 'squareness':
      switch (mount.kind) {
        case 'el-over-az':
          return { what: 'Elevation axis, right-hand end', senses: ['low', 'high'] }
        case 'ha-dec':
          return { what: 'Declination axis, west end too far', senses: ['south', 'north'] }
        case 'az-over-el':
          return { what: 'Swing axis, top end leans', senses: ['left', 'right'] }
        case 'x-y':
          return { what: 'Y axis, right-hand end too far', senses: ['back', 'forward'] }
      }
      break
    case 'collimation':
      switch (mount.kind) {
        case 'ha-dec':
          return { what: 'Dish looks off square, at the meridian', senses: ['east', 'west'] }
        case 'az-over-el':
          return { what: 'Dish offset, against paper', senses: ['down', 'up'] }
        default:
          return { what: 'Dish looks off square', senses: ['left', 'right'] }
      }
    case 'sag':
      return { what: 'Dish droops, at the horizon', senses: ['up', 'down'] }
    case 'feedRight':
      return { what: `Feed, sideways${of}`, senses: ['left', 'right'] }
    case 'feedUp':
      return { what: `Feed, along the UP mark${of}`, senses: ['away from UP', 'toward UP'] }
    case 'feedDroop':
      return { what: `Feed sinks, at the horizon${of}`, senses: ['up', 'down'] }
    case 'squintRight':
      return { what: `Beam off for another cause, sideways${of}`, senses: ['left', 'right'] }
    case 'squintUp':
      return { what: `Beam off for another cause, along the UP mark${of}`, senses: ['away from UP', 'toward UP'] }
    case 'tubeRight':
      return { what: 'Sighting tube, sideways', senses: ['left', 'right'] }
    case 'tubeUp':
      return { what: 'Sighting tube, along the UP mark', senses: ['away from UP', 'toward UP'] }
    case 'lowerPlay':
      return { what: `Play of ${lower}`, senses: ['', ''] }
    case 'upperPlay':
      return { what: `Play of ${upper}`, senses: ['', ''] }
  }
  return { what: id, senses: ['less', 'more'] }
}

/** A person hears the axes of their own mount, never "the upper counter". */
import { describe, expect, it } from 'vitest'
import type { Advice, MovedPart } from '../../src/core/export/advice.ts'
import { stepText } from '../../src/core/fit/suspects/marks.ts'
import { AXIS_NAMES } from '../../src/core/mount/names.ts'
import { labelOf, PARAMETER_IDS } from '../../src/core/mount/parameters.ts'
import { slotOf } from '../../src/core/mount/slots.ts'
import type { MountKind, StationRecord } from '../../src/core/records/fieldbook.ts'
import { stationFromRecord } from '../../src/core/records/stationintake.ts'
import { changeOptions } from '../../src/ui/change/words.ts'
import { adviceWords } from '../../src/ui/correct/advicewords.ts'
import { levelName } from '../../src/ui/kit/mount/words.ts'
import { AXES_OF } from '../../src/ui/kit/mountwords.ts'
import { subjectWords } from '../../src/ui/kit/parameterwords.ts'
import { pathWords, recordWords } from '../../src/ui/kit/recordwords.ts'
import { missingWords } from '../../src/ui/kit/sighting/words.ts'
import { levelHow, levelWhy } from '../../src/ui/level/words.ts'
import { fieldWord } from '../../src/ui/sight/words.ts'
import { smallBook } from '../helpers/smallbook.ts'
import { someOf } from '../helpers/some.ts'

const KINDS = Object.keys(AXIS_NAMES) as MountKind[]
const LEVELS = ['lower-axis-elevation', 'upper-axis-elevation', 'mast-lean', 'dish-elevation'] as const
const ENDS: Partial<Record<MountKind, MovedPart[]>> = {
  'az-over-el': ['left-end', 'right-end', 'upper-axis-top'],
  'x-y': ['forward-end', 'rear-end', 'upper-axis-right-end'],
  'el-over-az': ['upper-axis-left-end', 'upper-axis-right-end'],
  'ha-dec': ['polar-axis', 'upper-axis-west-end'],
}
const axis = { minReading: 0, maxReading: 80 }
const counts = { type: 'linear-counts', zeroCounts: 0, countsPerDeg: 10 } as const

const stationOf = (kind: MountKind): StationRecord => ({
  ...smallBook().stations[0],
  mount: {
    kind,
    headingDeg: 180,
    lower: { readout: { type: 'degrees' }, ...axis },
    upper: { readout: counts, ...axis },
  },
  sightings: [],
  levels: [],
  references: [],
  changes: [],
  priors: [],
})

/** Every sentence that speaks of an axis. */
function sentences(kind: MountKind): string[] {
  const station = stationOf(kind)
  const { mount } = station
  const built = stationFromRecord(station)
  const ids = PARAMETER_IDS.filter(id => slotOf(id, kind) !== null)
  const move = (part: MovedPart) =>
    ({ kind: 'move', part, toward: 'up', unit: 'deg', size: 1, sigma: 0.2 }) as unknown as Advice
  return [
    ...ids.map(id => labelOf(id, { kind, latitude: 0.8 })),
    ...ids.map(id => subjectWords(id, mount, 47, null).what),
    ...(ENDS[kind] ?? []).map(part => adviceWords(move(part), 'mm')),
    ...(['lower', 'upper'] as const).map(a => stepText(built, a, 0.01, 0.001, 0.0017, 0, 1000).text),
    ...(['lower', 'upper', 'mount.upper.minReading', 'arrivedFrom.lower'] as const).map(p => pathWords(p, mount)),
    ...LEVELS.map(what => recordWords('level', { what }, mount)),
    ...LEVELS.flatMap(what => [levelName(mount, what), levelWhy(mount, what), ...Object.values(levelHow(mount, what))]),
    ...changeOptions(station).map(o => o.word),
    ...(['lower', 'upper'] as const).map(a => fieldWord(a, mount) ?? ''),
    missingWords(mount, ['lower', 'upper']),
  ]
}

describe.each(KINDS)('%s', kind => {
  it('is spoken of by the names of its own axes', () => {
    for (const text of someOf(sentences(kind))) {
      // The upper end of a polar axis, or of an axis that points up, is an end, not an axis.
      expect(text.replace(/upper end/g, '')).not.toMatch(/\b(upper|lower)\b/i)
    }
    expect(sentences(kind).join(' ')).toContain(`The ${AXIS_NAMES[kind].upper} counter lost about`)
  })
})

it('falls back on lower and upper only where the mount is not known', () => {
  expect(pathWords('upper')).toBe('upper axis')
  expect(recordWords('level', { what: 'lower-axis-elevation' })).toBe('Level, lower axis')
})

describe('where the axes are met first', () => {
  it.each(KINDS)('%s: each name stands before its axis, the lower one first', kind => {
    const { lower, upper } = AXIS_NAMES[kind]
    const named = new RegExp(`^${lower}: the lower axis.*\\. ${upper}: the upper axis`, 'i')
    expect(AXES_OF[kind]).toMatch(named)
  })
})

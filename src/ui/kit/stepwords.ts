/** What a person did, in a few words: after "Undo:", and in the list of what is not kept yet. Made from the step alone. */
import type { UndoStep } from '../../state/steps.ts'
import { countOf, decimalsOf, degrees, fixed, levelText, NBSP, seenText, utcTime } from './format.ts'
import { theTarget } from './phrases.ts'
import { SUSPECT_WORDS } from './suspectwords.ts'

const OTHERS = 'what another version kept'
const USES = { auto: 'automatic', always: 'always count', never: 'leave out' } as const
const TAPS = { rising: 'rising', same: 'same point', missed: 'missed', peak: 'peak' } as const
const RECORDS = { level: 'a level', reference: 'the reading of a mark', change: 'a change' } as const

/** "level 3.2 dB", "delete Hill top": no capital, no full stop. Names in it have nothing invisible in them. */
export function undoStepWords(step: UndoStep): string {
  // A step that came back after a reload may be another version's, with a kind or a subject that this one cannot read.
  try {
    return wordsOf(step) ?? OTHERS
  } catch {
    return OTHERS
  }
}

function wordsOf(step: UndoStep): string | undefined {
  const { kind, subject: s } = step
  switch (kind) {
    case 'stamp':
      return `time marked on ${theTarget(s.target)}, ${utcTime(s.utcMs)}`
    case 'readings':
      return `readings of ${utcTime(s.utcMs)}`
    case 'join':
      return `join with ${utcTime(s.utcMs)}`
    case 'throw-away':
      return `discard ${utcTime(s.utcMs)}`
    case 'make-sighting':
      return `sighting of ${theTarget(s.target)}, ${utcTime(s.utcMs)}`
    case 'edit-sighting':
      return `edit of ${utcTime(s.utcMs)}`
    case 'use':
      return `${USES[s.use] ?? 'use'}, ${utcTime(s.utcMs)}`
    case 'delete-sighting':
      return `delete the sighting of ${utcTime(s.utcMs)}`
    case 'storm-check':
      return 'check after a storm'
    case 'set-drive':
      return 'speed of an axis'
    case 'set-stow':
      return 'stow position'
    case 'set-adjuster':
      return 'an adjuster'
    case 'begin-scan':
      return `begin a ${s.what} scan`
    case 'keep-log':
      return 'keep a receiver’s log'
    case 'signal-level':
      return `signal ${levelText(s.scale, s.level)}`
    case 'tap':
      return `${TAPS[s.mark] ?? 'tap'} at ${utcTime(s.utcMs)}`
    case 'one-side': {
      const digits = decimalsOf(s.reading)
      return `one side at ${s.unit === 'degrees' ? degrees(s.reading, Math.max(1, digits)) : `${fixed(s.reading, digits)}${NBSP}counts`}`
    }
    case 'gap':
      return 'mark a gap'
    case 'centre':
      return 'strength in the centre of the beam'
    case 'leave-out-level':
      return `leave out ${levelText(s.scale, s.level)}`
    case 'take-in-level':
      return `count ${levelText(s.scale, s.level)} again`
    case 'sighting-from-scan':
      return `sighting from a ${s.what} scan`
    case 'delete-scan':
      return `delete a ${s.what} scan`
    case 'keep-noise':
      return 'keep a noise record'
    case 'change-noise':
      return 'change a noise record'
    case 'remove-noise':
      return 'delete a noise record'
    case 'take-temperature':
      return 'use a feed’s system temperature'
    case 'keep-record':
      return s.record === 'change' ? 'note a change' : `keep ${RECORDS[s.record] ?? 'a record'}`
    case 'remove-record':
      return `delete ${RECORDS[s.record] ?? 'a record'}`
    case 'keep-instrument':
      return 'keep an instrument'
    case 'keep-bias':
      return 'keep an instrument’s bias'
    case 'remove-instrument':
      return 'remove an instrument'
    case 'calibrate':
      return 'put a calibration into the station'
    case 'rough-heading':
      return 'put a rough heading into the station'
    case 'check-clock':
      return 'keep a clock check'
    case 'count-backward':
      return 'apply a clock check to earlier sightings'
    case 'remove-clock-check':
      return 'remove a clock check'
    case 'measure-bowl':
      return 'measure diameter and depth'
    case 'measure-strings':
      return 'measure the rim with strings'
    case 'measure-rim':
      return `measure where ${seenText(s.feed)} sits`
    case 'accept':
      return `accept: ${SUSPECT_WORDS[s.suspect].toLowerCase()}`
    case 'dismiss':
      return `dismiss: ${SUSPECT_WORDS[s.suspect].toLowerCase()}`
    case 'look-again':
      return `look again: ${SUSPECT_WORDS[s.suspect].toLowerCase()}`
    case 'leave-out-step':
      return 'leave a step out'
    case 'take-up-step':
      return 'put a step back'
    case 'set-by-hand':
      return 'heading set by hand'
    case 'carry-over':
      return 'numbers carried over'
    case 'make-station':
      return `make ${seenText(s.name)}`
    case 'change-station':
      return `change ${seenText(s.name)}`
    case 'delete-station':
      return `delete ${seenText(s.name)}`
    case 'bring-back':
      return `restore ${seenText(s.called)}`
    case 'bring-in':
      return `import ${countOf(s.records, 'record')}`
    case 'open-demo':
      return 'open the demo station'
    case 'begin-rehearsal':
      return `begin ${seenText(s.name)}`
    case 'move-feed':
      return 'move the feed'
    case 'turn-adjuster':
      return 'turn an adjuster'
    case 'take-over':
      return 'keep what was written without the database'
    case 'earlier':
      return seenText(s.sentence)
    case 'unknown':
      return undefined
  }
}

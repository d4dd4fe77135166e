/** Words of the list "More ways to measure". */
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { axisName } from '../kit/phrases.ts'

interface MoreWay {
  /** Where it is; none: the place "Mount". */
  place?: string
  to: string[]
  word: string
  why: string
}

export const LEVEL_MORE = {
  title: 'More ways to measure',
  word: 'More ways to measure',
  ways: ({ mount }: StationRecord): MoreWay[] => [
    {
      to: ['instruments'],
      word: 'Instruments and their bias',
      why: 'This phone by each of its edges, and inclinometers: a reversal finds the bias of each.',
    },
    {
      to: ['swing'],
      word: 'Sweep an axis',
      why: 'The elevation of an axis, from a phone fixed to the part that turns about it.',
    },
    {
      to: ['counts'],
      word: 'Degrees per count',
      why: `What a count of the ${axisName(mount, 'lower')} or the ${axisName(mount, 'upper')} readout is worth, and how much lost motion there is.`,
    },
    {
      place: 'sight',
      to: ['axes'],
      word: 'Speed of the axes',
      why: 'How fast each jack runs, so that the way to a target is told in seconds.',
    },
    {
      place: 'sight',
      to: ['stow'],
      word: 'Stow position',
      why: 'The readings where the dish is put in wind, and the way there.',
    },
    {
      place: 'book',
      to: ['dish'],
      word: 'Measure the dish',
      why: 'Where the feed sits, how deep the dish is and whether its rim is flat, with a tape and two strings.',
    },
    {
      to: ['clock'],
      word: 'Check the clock',
      why: 'How far off the phone’s clock is, from the pips of a time signal. Best before the first sighting.',
    },
    {
      to: ['sunline'],
      word: 'The Sun’s line',
      why: 'Where the shadow of a plumb line falls now: true north, or the mount’s heading, without a compass.',
    },
    {
      to: ['heading'],
      word: 'A rough heading',
      why: 'By compass, corrected for declination: a first guess only.',
    },
  ],
} as const

/** Words of the check after carrying over: targets, verdict, what would not have shown. */
import type { CarriedCheck, ShownOutput } from '../../core/carry/carriedcheck.ts'
import type { CarryPage } from '../../core/carry/page.ts'
import { isBeamOffTarget } from '../../core/dish/optics.ts'
import { AXES } from '../../core/mount/names.ts'
import type { Axis } from '../../core/records/fieldbook.ts'
import { decibels, degrees, fixed, NBSP } from '../kit/format.ts'
import { MISSES } from '../kit/loss.ts'
import { capital, listed, targetWords } from '../kit/phrases.ts'
import { isEmpty, type TypedTarget } from './form.ts'
import { slipWords, unseenWords } from './words.ts'

/** "Azimuth 221°, elevation 15°", "Moon" */
export const targetTitle = ({ target }: Pick<TypedTarget, 'target'>): string =>
  target.type === 'landmark'
    ? `Azimuth ${degrees(target.azDeg, 0, 'decimal')}, elevation ${degrees(target.elDeg, 0, 'decimal')}`
    : capital(targetWords(target))

interface Said {
  head: string
  text: string[]
  /** What explains it, or what would not have shown. */
  list: string[]
  state: 'good' | 'look-out'
}

const costs = (db: number): string =>
  isBeamOffTarget(db) ? `with it ${MISSES}` : `with it ${decibels(db)} on own echoes`

const MOST_UNSEEN = 8

/** @param isCoarse  an axis in degrees was typed to tenths or less */
export function checkSaid(page: CarryPage, told: CarriedCheck, isCoarse: boolean): Said {
  const [first] = told.fits
  switch (told.verdict) {
    case 'agrees': {
      if (told.unseen.length === 0)
        return {
          state: 'good',
          head: 'It agrees with the page.',
          text: [
            'A single slip in its numbers that costs a quarter of the loss you allow, or more, should have shown here.',
          ],
          list: [],
        }
      const shown = told.unseen.slice(0, MOST_UNSEEN).map(f => capital(unseenWords(page, f)))
      const more = told.unseen.length - shown.length
      return {
        state: 'look-out',
        head: 'It agrees at these targets, but they do not test every number.',
        text: [
          `This would not have shown here. Look these numbers over once more${isCoarse ? ', or type what it shows with more decimals' : ', or take other targets'}:`,
        ],
        list: more > 0 ? [...shown, `and ${more} more`] : shown,
      }
    }
    case 'mistake':
      return {
        state: 'look-out',
        head: `It looks as if ${slipWords(page, first!)}.`,
        text: [
          `Look at it in the program, put it right, and check again; ${costs(first!.echoLossDb)}.`,
          ...(told.fits.length > 1 ? [`Or ${listed(told.fits.slice(1).map(f => slipWords(page, f)))}.`] : []),
        ],
        list: [],
      }
    case 'several':
      return {
        state: 'look-out',
        head: 'It differs, and more than one slip fits.',
        text: ['Look at each of these in the program; a further target tells them apart.'],
        list: told.fits.map(f => capital(slipWords(page, f))),
      }
    case 'none':
      return {
        state: 'look-out',
        head: 'It differs, and no single slip explains it.',
        text: [
          'Compare every number of the page with the program, then what it must assume. Two slips at once look like this; so does a target typed for another time.',
          '“Compare a program” shows whether it has time, place and target right.',
        ],
        list: [],
      }
  }
}

const outputWords = (page: CarryPage, axis: Axis, x: number): string =>
  page.axes[axis].unit === 'counts' ? `${fixed(x, 0)}${NBSP}counts` : degrees(x, 2, 'decimal')

/** What should be shown at each target that was typed. */
export function expectedWords(
  page: CarryPage,
  told: CarriedCheck,
  typed: readonly ShownOutput[],
  targets: readonly TypedTarget[],
): { title: string; text: string }[] {
  const begun = targets.filter(t => !isEmpty(t))
  return typed.map((shown, k) => {
    const due = told.expected[k]
    const both = AXES.map(axis =>
      due === null || due === undefined
        ? ''
        : `${page.axes[axis].name} ${outputWords(page, axis, due[axis])}, it shows ${outputWords(page, axis, shown[axis])}`,
    )
    return {
      title: begun[k] === undefined ? targetTitle(shown) : targetTitle(begun[k]),
      text:
        due === null || due === undefined ? 'By the page there is nothing to show.' : `By the page ${both.join('; ')}.`,
    }
  })
}

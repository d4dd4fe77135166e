/** Before and while the dish is driven over the Sun: in full the first time, one line after that. */
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { dishAnswer } from '../../core/tape/measured.ts'
import { Caution } from '../kit/Caution.tsx'
import { lengthUnit } from '../kit/format.ts'
import { sunCautions } from '../kit/shadow/words.ts'
import { SEARCH } from './words.ts'

export function SearchCaution({ station }: { station: StationRecord }) {
  return <Caution act="search" gravest={SEARCH.caution} more={sunCautions(dishAnswer(station), lengthUnit())} />
}

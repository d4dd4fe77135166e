/** The wish for a time of the noon check, kept as it is typed. */
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { feedHere } from '../../state/chosenfeed.ts'
import { useKept } from '../kit/keptany.ts'
import { emptyWish } from './form.ts'

export const useNoonWish = (station: StationRecord) => useKept(`noon.${station.id}`, () => emptyWish(feedHere(station)))

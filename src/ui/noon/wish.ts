import type { StationRecord } from '../../core/records/fieldbook.ts'
import { useKept } from '../kit/keptany.ts'
import { emptyWish } from './form.ts'
import '../correct/correct.css'

export const useNoonWish = (station: StationRecord) => useKept(`noon.${station.id}`, () => emptyWish(station))

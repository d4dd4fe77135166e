/** The two screens of a rehearsal: its beginning and its end. */
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { RehearseBegin } from './RehearseBegin.tsx'
import { RehearseEnd } from './RehearseEnd.tsx'
import './rehearse.css'

export const RehearsePlace = ({ station, what }: { station: StationRecord | null; what: string | undefined }) =>
  what === 'end' && station?.rehearsal === true ? <RehearseEnd key={station.id} station={station} /> : <RehearseBegin />

/** A record is looked at in its station before it is written, so that nothing illegal is ever stored. */
import type { Fault } from '../records/answer.ts'
import type { StationRecord } from '../records/fieldbook.ts'
import { checkFieldBook } from '../records/intake.ts'

export type MountList = 'levels' | 'references' | 'changes'

/** What the station would break with this record in it: only rules of the record itself, with the path from the record on. */
export function faultsWith(station: StationRecord, list: MountList, record: { id: string; utc: string }): Fault[] {
  const others = ((station[list] ?? []) as { id: string }[]).filter(r => r.id !== record.id)
  const whole = { ...station, [list]: [...others, record] }
  const book = { format: 'moonplumb-fieldbook', version: 1, exportedUtc: record.utc, stations: [whole] }
  const own = `stations[0].${list}[${others.length}]`
  return checkFieldBook(book)
    .filter(f => f.path === own || f.path.startsWith(`${own}.`) || f.path.startsWith(`${own}[`))
    .map(f => ({ ...f, path: f.path.slice(own.length).replace(/^\./, '') }))
}

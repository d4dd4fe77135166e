/** What a sighting said before: each state with what changed. */
import { useEffect, useState } from 'preact/hooks'
import type { MountRecord, SightingRecord, StationRecord } from '../../core/records/fieldbook.ts'
import { recordId } from '../../core/records/kinds.ts'
import { type StoredRecord, sameJson } from '../../core/records/stored.ts'
import { fieldBook } from '../../state/book.ts'
import { countOf } from '../kit/format.ts'
import { HelpLine } from '../kit/HelpLine.tsx'
import { Text } from '../kit/numbers.tsx'
import { whenToSecond } from '../kit/phrases.ts'
import { fieldWord, SIGHT } from './words.ts'

/** What a revision says other than the one before. */
function changeWords(mount: MountRecord, before: StoredRecord | undefined, after: StoredRecord): string {
  if (after.deleted) return 'deleted'
  if (before === undefined) return 'written'
  if (before.deleted) return 'restored'
  const [a, b] = [before.body, after.body] as [Record<string, unknown>, Record<string, unknown>]
  const fields = new Set([...Object.keys(a), ...Object.keys(b)].filter(k => !sameJson(a[k], b[k])))
  const names = new Set([...fields].map(k => fieldWord(k, mount)).filter(Boolean))
  return names.size === 0 ? 'kept as it was' : `changed: ${[...names].join(', ')}`
}

export function History({ station, record }: { station: StationRecord; record: SightingRecord }) {
  const [revisions, setRevisions] = useState<readonly StoredRecord[]>([])
  useEffect(() => {
    let mine = true
    void fieldBook.history(recordId('sighting', station.id, record.id)).then(answered => {
      if (mine && answered.kind === 'done') setRevisions(answered.value)
    })
    return () => {
      mine = false
    }
  }, [station.id, record])
  const ordered = [...revisions].sort((a, b) => a.revision - b.revision)
  return (
    <HelpLine word={`${SIGHT.history}, ${countOf(ordered.length, 'entry', 'entries')}`}>
      <ol class="sight-history">
        {ordered.map((r, i) => (
          <li key={r.revision}>
            <Text>
              {whenToSecond(r.writtenMs)}: {changeWords(station.mount, ordered[i - 1], r)}
            </Text>
          </li>
        ))}
      </ol>
      <Text quiet>{SIGHT.historyWhy}</Text>
    </HelpLine>
  )
}

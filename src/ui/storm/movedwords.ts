/** Words of "Has it moved?": since when, or why it cannot be told. */
import type { HasMovedJson } from '../../core/plan/hasmovedjson.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { whenToMinute } from '../kit/phrases.ts'
import { stormSentence } from './words.ts'

export const MOVED = {
  lead: 'Every visit since the last change is compared with those before it.',
  suspects: 'What looks wrong',
} as const

/** The sentence of the answer. */
export function movedSentence(station: StationRecord, m: HasMovedJson): string {
  const { check, since, verdict } = m
  if (verdict === 'holds' && since)
    return `It holds: nothing has moved since before ${whenToMinute(since.firstUtc)}. A move that matters would have shown.`
  if (verdict === 'moved' && check) return stormSentence(station, check)
  if (m.visits === 0) return 'Cannot tell: nothing has been measured since the last change. It takes two visits.'
  if (m.visits < 2) return 'Cannot tell: since the last change there has been only one visit to compare.'
  if (check === null) return 'Cannot tell: before the last visit there are too few sightings to compare with.'
  if (check.verdict === 'moved')
    return 'Cannot tell yet: what came last does not fit, but a slip or chance may have done it. Sight once more.'
  if (check.why === 'loose-before') return 'Cannot tell: before the last visit this mount was not known well enough.'
  return stormSentence(station, check)
}

/** "It moved between … and …" */
export const whenMoved = ({ verdict, since }: HasMovedJson): string | null =>
  verdict === 'moved' && since
    ? `It moved between ${whenToMinute(since.beforeUtc)} and ${whenToMinute(since.firstUtc)}.`
    : null

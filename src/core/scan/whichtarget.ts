/**
 * What a scan is of where the person has not said: the target in view, but not a Moon or Sun that this feed is not expected to hear
 * while it hears the other. Records in, plain JSON out; dB above cold sky.
 */
import { HEARD_DB } from '../noise/noise.ts'
import { noiseAnswer } from '../noise/noiseanswer.ts'
import type { FeedRecord, StationRecord, TargetRecord } from '../records/fieldbook.ts'

type Body = 'sun' | 'moon'

export interface HeardBody {
  /** Its noise above cold sky; null where its flux is not published at this frequency. */
  db: number | null
  /** Strong enough to find a peak by. A Sun that is not known counts as strong. */
  isEnough: boolean
}
export interface HeardBodies extends Readonly<Record<Body, HeardBody>> {
  /** Echoes come and go with the Moon's libration: a scan of them is made only where it is asked for, or where nothing else is heard. */
  hearsEchoes: boolean
}

export function heardBodies(station: StationRecord, feed: FeedRecord): HeardBodies {
  const e = noiseAnswer(station).expected.find(x => x.feed === feed.id)!
  return {
    sun: { db: e.sunDb, isEnough: e.sunDb === null || e.sunDb >= HEARD_DB },
    moon: { db: e.moonDb, isEnough: !e.moonTooWeak },
    hearsEchoes: e.hearsMoonEchoes,
  }
}

const isBody = (target: TargetRecord): target is { type: Body } => target.type === 'sun' || target.type === 'moon'

/** What the person should know of the target of a scan; null where nothing speaks against it. */
export type TargetNote =
  /** Taken in place of the target in view, which is too weak. */
  | { kind: 'instead'; of: Body; db: number | null }
  /** Chosen although it is too weak; the other one is not. */
  | { kind: 'too-weak'; of: Body; db: number | null }
  | { kind: 'neither'; sunDb: number | null; moonDb: number | null }

/**
 * @param inView    what the person last chose to point at, on any screen
 * @param isChosen  it was chosen for a scan: then it stays
 */
export function scanTarget(
  heard: HeardBodies,
  inView: TargetRecord,
  isChosen: boolean,
): { target: TargetRecord; note: TargetNote | null } {
  if (!isBody(inView) || heard[inView.type].isEnough) return { target: inView, note: null }
  const of = inView.type
  const other = of === 'sun' ? 'moon' : 'sun'
  if (of === 'moon' && heard.hearsEchoes && (isChosen || !heard.sun.isEnough)) return { target: inView, note: null }
  if (!heard[other].isEnough)
    return { target: inView, note: { kind: 'neither', sunDb: heard.sun.db, moonDb: heard.moon.db } }
  const { db } = heard[of]
  return isChosen
    ? { target: inView, note: { kind: 'too-weak', of, db } }
    : { target: { type: other }, note: { kind: 'instead', of, db } }
}

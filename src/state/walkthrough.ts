/** The walk-through of a first rehearsal as it stands: asked of the core with what the book, the clock and the dish at hand say. */
import type { StationRecord } from '../core/records/fieldbook.ts'
import { beamsBeside } from '../core/rehearse/beside.ts'
import { bestPeak, bodySeen, type Lesson, lessonOf } from '../core/rehearse/lesson.ts'
import { alignmentNow } from './alignment.ts'
import { answer } from './answer.ts'
import { feedHere } from './chosenfeed.ts'
import { now } from './now.ts'
import { rehearsal } from './rehearse.ts'
import { bodiesNow } from './sky.ts'

const NOWHERE = { isUp: false, isThere: false, isRisen: false, isShining: false, off: Number.POSITIVE_INFINITY }

/**
 * Null where there is none, or no answer of the alignment yet. `isStale`: of the latest records or of this hour there is none yet.
 *
 * @param isOpen  the dish at hand lies over the screen
 */
export function walkThrough(station: StationRecord, isOpen: boolean): (Lesson & { isStale: boolean }) | null {
  const { value, stale, station: of } = alignmentNow.value
  const [world, hands] = [rehearsal.world.value, rehearsal.hands.value]
  if (station.rehearsalSetup?.difficulty !== 'beginner' || world === null || hands === null) return null
  if (value === null || of !== station.id) return null
  const chosen = feedHere(station)
  const feed = world.paper.feeds.some(f => f.id === chosen) ? chosen : undefined
  const seen = (body: 'sun' | 'moon') => {
    const row = bodiesNow.value.find(b => b.body === body)
    if (row === undefined) return NOWHERE
    return bodySeen(station.mount, row, beamsBeside(world, hands, world.trueMs(now.value), body, feed))
  }
  const lesson = lessonOf({
    mount: station.mount,
    steps: value.steps,
    sightings: station.sightings,
    dishLevels: (station.levels ?? []).filter(l => l.what === 'dish-elevation').length,
    isOpen,
    hpbwDeg: value.beamwidthDeg,
    nowMs: now.value,
    lonDeg: station.site.lonDeg,
    seen: { sun: seen('sun'), moon: seen('moon') },
    best: bestPeak(station.mount, answer.value.solution),
  })
  return { ...lesson, isStale: stale || bodiesNow.value.length === 0 }
}

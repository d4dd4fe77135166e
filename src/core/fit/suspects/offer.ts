/**
 * What a person accepts when a suspect is right, made into records: a change, corrected readings or targets, another
 * readout, a wider prior. The history keeps what was there before.
 */
import type { Axis, StationRecord } from '../../records/fieldbook.ts'
import type { Offer } from '../../records/solution.ts'
import { splitPriorId } from '../parameters.ts'

/** A station whose readings of one axis are turned about: x becomes about - x. */
function mirrored(station: StationRecord, axis: Axis, about: number): StationRecord {
  const turned = (x: number): number => Number((about - x).toFixed(9))
  const old = station.mount[axis]
  const withReading = <T extends object>(x: T): T =>
    axis in x ? { ...x, [axis]: turned((x as unknown as Record<Axis, number>)[axis]) } : x
  const withSide = <T extends { arrivedFrom?: { lower?: '+' | '-'; upper?: '+' | '-' } }>(x: T): T => {
    const side = x.arrivedFrom?.[axis]
    return side === undefined ? x : { ...x, arrivedFrom: { ...x.arrivedFrom, [axis]: side === '+' ? '-' : '+' } }
  }
  return {
    ...station,
    mount: {
      ...station.mount,
      [axis]: { ...old, minReading: turned(old.maxReading), maxReading: turned(old.minReading) },
    },
    sightings: station.sightings.map(s => withSide(withReading(s))),
    ...(station.levels ? { levels: station.levels.map(withReading) } : {}),
    ...(station.references
      ? { references: station.references.map(r => (r.axis === axis ? { ...r, reading: turned(r.reading) } : r)) }
      : {}),
  }
}

/** The station with an offer accepted. @param id for the change that it may need */
export function withOffer(station: StationRecord, offer: Offer, id: string, note?: string): StationRecord {
  switch (offer.type) {
    case 'change': {
      const { utc, what, slipped } = offer
      const change = { id, utc, what, ...(slipped ? { slipped } : {}), ...(note === undefined ? {} : { note }) }
      return { ...station, changes: [...(station.changes ?? []), change] }
    }
    case 'sightings': {
      const set = new Map(offer.set.map(s => [s.id, s]))
      return { ...station, sightings: station.sightings.map(s => ({ ...s, ...set.get(s.id) })) }
    }
    case 'mirror':
      return mirrored(station, offer.axis, offer.about)
    case 'readout':
      return {
        ...station,
        mount: { ...station.mount, [offer.axis]: { ...station.mount[offer.axis], readout: offer.readout } },
      }
    case 'priors': {
      const names = new Set(offer.priors.map(p => p.id))
      const others = (station.priors ?? []).filter(p => !names.has(splitPriorId(p).id))
      return { ...station, priors: [...others, ...offer.priors] }
    }
  }
}

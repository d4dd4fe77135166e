/** A station with many sightings: how the program fares when a book has grown for years. */
import type { StationRecord } from '../../src/core/records/fieldbook.ts'
import { drawScene, sightMany, spoil } from './simulate.ts'

/**
 * A tilting mount on two jacks, `n` sightings in 22 days from the start of the simulation.
 *
 * @param wrong  how many of them are plain wrong, spread evenly
 */
export function stationWith(n: number, wrong: number): StationRecord {
  const scene = drawScene(11, { kind: 'az-over-el', lower: 'jack', upper: 'jack' })
  const sightings = sightMany(scene, n, { days: 22 })
  for (let k = 0; k < wrong; k++) spoil(scene, sightings[3 + k * Math.floor(n / (wrong + 1))]!)
  return { ...scene.record, sightings }
}

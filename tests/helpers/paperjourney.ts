/**
 * What the walks through the whole job share: a station on paper, six sightings of it, and how far the solution on the phone
 * is from the desk's. Run from the project's root.
 */
import { spawnSync } from 'node:child_process'
import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { bookOf, gravelPit } from './stations.ts'

/** On paper, for the readings at which the six sightings are made; the person's own are a little off. */
const PAPER = bookOf(gravelPit({ id: 'paper', name: 'paper', site: { latDeg: 47.5, lonDeg: 9.3, heightM: 640 } }))

/** What the desk's command prints. */
export function batch(...args: string[]): string {
  const run = spawnSync('node', ['src/batch/run.mjs', ...args], { encoding: 'utf8' })
  if (run.stderr !== '') throw new Error(run.stderr)
  return run.stdout
}

/** Six times at which the Sun is well up, with the readings of a mount that is 2.4° off in azimuth and 0.7° in elevation. */
export function sixSightings(folder: string): { utc: string; lower: string; upper: string }[] {
  const file = join(folder, 'paper.fieldbook.json')
  writeFileSync(file, JSON.stringify(PAPER))
  const csv = batch(
    'targets',
    file,
    '--target',
    'sun',
    '--from',
    '2026-06-02T05:00:00Z',
    '--hours',
    '12',
    '--step-s',
    '7200',
    '--uncorrected',
    '--now',
    '2026-06-02T00:00:00Z',
  )
  return csv
    .trim()
    .split('\r\n')
    .slice(1)
    .map(line => line.split(','))
    .map(([utc, , , , lower, upper]) => ({
      utc: utc!.replace('T', ' ').replace('Z', ''),
      lower: (Number(lower) + 2.4).toFixed(1),
      upper: (Number(upper) - 0.7).toFixed(1),
    }))
}

/**
 * How far apart two answers are in JSON.
 *
 * @returns worst: the largest difference of two numbers, over the larger of 1 and the number itself, since ten decimals are
 *          what an answer carries. other: paths at which anything else differs
 */
export function difference(a: unknown, b: unknown): { worst: number; numbers: number; other: string[] } {
  const found = { worst: 0, numbers: 0, other: [] as string[] }
  const look = (x: unknown, y: unknown, path: string) => {
    if (typeof x === 'number' && typeof y === 'number') {
      found.numbers++
      found.worst = Math.max(found.worst, Math.abs(x - y) / Math.max(1, Math.abs(x)))
    } else if (x === null || y === null || typeof x !== 'object' || typeof y !== 'object') {
      if (x !== y) found.other.push(path)
    } else {
      const keys = Object.keys(x)
      if (keys.join() !== Object.keys(y).join()) found.other.push(path)
      for (const key of keys) look(x[key as never], y[key as never], `${path}/${key}`)
    }
  }
  look(a, b, '')
  return found
}

/** Lost motion by the side of balance: nobody noted a side, and the misses change where the dish's weight goes over. */
import { describe, expect, it } from 'vitest'
import { solve } from '../../../../src/core/questions.ts'
import type { SightingRecord } from '../../../../src/core/records/fieldbook.ts'
import { answered } from '../../../helpers/answered.ts'
import { bookOf, drawScene, type Scene, START_MS, sight, sightMany, utcOf } from '../../../helpers/simulate.ts'

const DAY_MS = 86_400_000

/** Sightings of a tilting mount whose swing hangs to the side to which it has tipped. */
function hanging(scene: Scene, n: number): SightingRecord[] {
  return sightMany(scene, n, { methods: ['signal-peak'], days: 21 }).flatMap(s => {
    const side = s.upper > 0 ? '+' : '-'
    const { target, method } = s
    const made = sight(scene, { ms: Date.parse(s.utc), target, method, sides: { upper: side } }, s.id)
    if (made === null) return []
    const { arrivedFrom: _, ...silent } = made
    return [silent]
  })
}

const suspectsOf = (scene: Scene, sightings: SightingRecord[]) =>
  answered(solve(bookOf({ ...scene.record, sightings }), { now: utcOf(START_MS + 30 * DAY_MS) })).suspects

const sceneOf = (seed: number, play: number): Scene => {
  const scene = drawScene(seed, {
    kind: 'az-over-el',
    lower: 'degrees',
    upper: 'degrees',
    frequencyMHz: 5760,
    wild: false,
  })
  scene.truths[0]!.truth.upperPlay = play
  return scene
}

describe('lost motion', () => {
  it('is found by the side of balance, and as large as it is', () => {
    for (const seed of [1201, 1203]) {
      const scene = sceneOf(seed, 2)
      const suspects = suspectsOf(scene, hanging(scene, 30))
      const found = suspects.find(s => s.kind === 'lost-motion')!
      expect(found.axis).toBe('upper')
      expect(found.text).toContain('goes over to the other side')
      expect(Math.abs(found.angleDeg! - 2)).toBeLessThan(4 * found.sigmaDeg!)
    }
  })

  it('is not said of a mount without play', () => {
    for (const seed of [1211, 1213, 1215]) {
      const scene = sceneOf(seed, 0)
      expect(suspectsOf(scene, hanging(scene, 30)).filter(s => s.kind === 'lost-motion')).toEqual([])
    }
  })
})

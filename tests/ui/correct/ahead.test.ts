/** Sightings to come, in words and drawn: never "within" beyond what is allowed, nothing said that the plan does not hold. */
import { describe, expect, it } from 'vitest'
import type { CampaignJson, CampaignStepJson } from '../../../src/core/plan/campaignjson.ts'
import { afterWords, backWords, enoughWords, leavesShort, paysWords } from '../../../src/ui/correct/aheadwords.ts'
import { skyDome } from '../../../src/ui/correct/skydome-geometry.ts'
import { plain } from '../../helpers/plain.ts'

const made = (utc: string, afterDb: number, target: 'sun' | 'moon' = 'sun'): CampaignStepJson => ({
  step: {
    kind: 'sighting',
    target,
    method: 'signal-peak',
    utc,
    azDeg: 180,
    elDeg: 40,
    lower: 1,
    upper: 2,
    sigmaDeg: 0.5,
  },
  afterDeg: afterDb / 2,
  afterDb,
})
const plan = (x: Partial<CampaignJson>): CampaignJson => ({
  feed: 'a',
  nowDb: 2.5,
  nowDeg: 1.6,
  allowedDb: 0.5,
  paths: [],
  ranked: [],
  today: [],
  isAllToday: true,
  isEnough: false,
  back: null,
  ...x,
})

describe('sightings to come', () => {
  it('says what they bring together, and whether that is within what is allowed', () => {
    const two = [made('2026-11-25T10:00:00Z', 1.1), made('2026-11-25T14:00:00Z', 0.4)]
    expect(afterWords(plan({ today: two }))).toBe('After these 2 sightings own echoes should lose less than')
    expect(afterWords(plan({ today: two.slice(0, 1) }))).toBe('After this sighting own echoes should lose less than')
    expect(plain(enoughWords(plan({ isEnough: true })))).toBe('Within the 0.5 dB that you allow.')
    expect(plain(enoughWords(plan({})))).toBe('Not yet within the 0.5 dB that you allow.')
    expect(paysWords(plan({ today: two }))).toContain('would not improve it noticeably')
    expect(paysWords(plan({ today: two, isAllToday: false }))).toBeNull()
  })

  it('names the day to come back and the reason; and where nothing helps, what does', () => {
    expect(backWords(plan({ isEnough: true }))).toBeNull()
    expect(backWords(plan({}))![1]).toContain('Worth doing next')
    const back = { steps: [made('2026-12-12T10:00:00Z', 0.45)], isEnough: true }
    const [when, why, ...more] = backWords(plan({ back }))!.map(plain)
    expect(when).toBe(
      'Come back on 12 Dec 2026: then 1 sighting of the Sun brings it to 0.5 dB, within the 0.5 dB that you allow.',
    )
    expect(why).toContain('one declination')
    expect(more).toEqual([])
    const byMoon = { ...back, steps: [made('2026-12-12T10:00:00Z', 0.7, 'moon')], isEnough: false }
    const words = backWords(plan({ back: byMoon }))!
    expect(words.join(' ')).not.toContain('declination')
    expect(words.at(-1)).toContain('do not bring it within')
  })

  it('gives no figure where the beam misses', () => {
    expect(leavesShort({ afterDb: 40, afterDeg: 6.3 })).toBe('leaves 6.3°')
    expect(plain(leavesShort({ afterDb: 0.4, afterDeg: 0.6 }))).toBe('leaves 0.4 dB')
  })

  it('beads grow with what they bring: the area with the share; a tap on a step says what it is', () => {
    const at = { azDeg: 180, elDeg: 40 }
    const { beads, marks, words } = skyDome({
      paths: [],
      beads: [
        { ...at, share: 1 },
        { ...at, share: 0.25 },
        { ...at, share: 0 },
      ],
      steps: [{ ...at, id: 'step-0', label: 'Sun by strongest signal, 10:00 UTC' }],
    })
    expect(beads[0]!.r / beads[1]!.r).toBeCloseTo(2, 5)
    expect(beads[2]!.r).toBeGreaterThan(0)
    expect(marks.find(m => m.id === 'step-0')!.says).toContain('Sun by strongest signal, 10:00 UTC')
    expect(words.join(' ')).not.toContain('No sightings yet')
  })
})

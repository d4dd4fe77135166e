import { describe, expect, it } from 'vitest'
import { fieldsOfSpot } from '../../../src/ui/kit/shadow/form.ts'
import { emptySightForm, type SightForm } from '../../../src/ui/kit/sighting/form.ts'
import { readStorm } from '../../../src/ui/storm/form.ts'
import { gravelPit } from '../../helpers/stations.ts'

const station = gravelPit({ dish: { diameterM: 3, focalRatio: 0.4, feedDiameterMm: 180 } })
const form = (more: Partial<SightForm> = {}): SightForm => ({ ...emptySightForm('mm'), target: 'sun', ...more })

describe('readStorm', () => {
  const ids = { peak: 'p', shadow: 's' }
  const whole = form({ lower: '170.5', upper: '41', utc: '2026-06-10 10:00:30', sigma: '0.3', view: 'front' })
  const seen = { ...whole, ...fieldsOfSpot({ rightMm: -5, upMm: 9 }, 'front', 'mm') }
  it('makes two sightings of one pose and time: the peak with its σ, the shadow with the usual one', () => {
    const read = readStorm(seen, 'yes', station, ids)
    expect(read).toMatchObject({
      kind: 'whole',
      peak: { id: 'p', method: 'signal-peak', lower: 170.5, upper: 41, sigmaDeg: 0.3, target: { type: 'sun' } },
      shadow: { id: 's', method: 'shadow', lower: 170.5, upper: 41, shadow: { rightMm: -5, upMm: 9 } },
    })
    if (read.kind !== 'whole') return
    expect(read.peak.shadow).toBeUndefined()
    expect(read.shadow!.sigmaDeg).toBeUndefined()
    expect(read.shadow!.utc).toBe(read.peak.utc)
  })
  it('does without a shadow under cloud, but wants it said', () => {
    expect(readStorm(whole, 'no', station, ids)).toMatchObject({ kind: 'whole', shadow: null })
    expect(readStorm(whole, '', station, ids)).toEqual({ kind: 'not-yet', missing: 'shadow' })
    expect(readStorm({ ...whole, view: null }, 'yes', station, ids)).toMatchObject({ missing: ['view'] })
    expect(readStorm({ ...whole, lower: '' }, 'yes', station, ids)).toMatchObject({ missing: ['lower'] })
  })
})

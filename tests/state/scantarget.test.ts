import { beforeEach, describe, expect, it } from 'vitest'
import { chooseTarget, target } from '../../src/state/pointing.ts'
import { chooseForScan, scanTargetHere } from '../../src/state/scantarget.ts'
import { bareStation } from '../helpers/smallbook.ts'

const station = {
  ...bareStation('st'),
  dish: { diameterM: 2.4, focalRatio: 0.4 },
  feeds: [
    { id: 'a', name: '23 cm', frequencyMHz: 1296 },
    { id: 'b', name: '3 cm', frequencyMHz: 10368 },
  ],
}

describe('scanTargetHere', () => {
  beforeEach(() => chooseTarget({ type: 'moon' }))

  it('begins with what the feed hears, and leaves the dial’s target as it is', () => {
    expect(scanTargetHere(station, 'a').target).toEqual({ type: 'sun' })
    expect(scanTargetHere(station, 'b').target).toEqual({ type: 'moon' })
    expect(target.value).toEqual({ type: 'moon' })
  })

  it('keeps what was chosen for a scan with this feed', () => {
    chooseForScan(station, 'a', { type: 'moon' })
    expect(scanTargetHere(station, 'a')).toMatchObject({ target: { type: 'moon' }, note: { kind: 'too-weak' } })
    // Another station's feed was not asked about.
    expect(scanTargetHere({ ...station, id: 'other' }, 'a').target).toEqual({ type: 'sun' })
  })
})

import { describe, expect, it } from 'vitest'
import { LOSS, madeOf } from '../../../src/ui/kit/loss.ts'
import { plain } from '../../helpers/plain.ts'

describe('madeOf', () => {
  it('says what the error is made of, to hundredths', () => {
    expect(plain(madeOf({ openDeg: 0.364, floorDeg: 0.031 }))).toBe(
      'Error left: 0.36° from too few sightings, 0.03° from counts and play.',
    )
  })

  it('gives no figure where nobody knows which way the mount faces', () => {
    expect(madeOf({ openDeg: 147.09, floorDeg: 0.03 })).toMatch(/^As entered the beam may point anywhere/)
    expect(madeOf({ openDeg: 147.09, floorDeg: 0.03 })).not.toMatch(/\d/)
  })
})

describe('LOSS', () => {
  it('says its two figures one after the other, each with what it is a share of', () => {
    expect(plain(`${LOSS.lead} 0.4 dB ${LOSS.meant}`)).toBe(
      'Own echoes lose less than 0.4 dB for 95 % of Moon time, with 90 % confidence',
    )
    expect(plain(LOSS.help[0])).toMatch(/^95 % of Moon time: /)
    expect(plain(LOSS.help[1])).toMatch(/^90 % confidence: of ten mounts/)
  })
})

import { describe, expect, it } from 'vitest'
import { spreadWords } from '../../../../src/ui/kit/sighting/words.ts'
import { plain } from '../../../helpers/plain.ts'

describe('spreadWords', () => {
  it('a drift known to a thousandth along and to 4.8° across is not "good to 4.8°"', () => {
    const [along, across] = [0.001 ** 2, 4.8 ** 2]
    expect(plain(spreadWords({ rr: across, ru: 0, uu: along }, true))).toBe(
      '± 0.0010° along the drift, ± 4.8° across it',
    )
  })
  it('of a scan it says one way and across; alike both ways it is one figure', () => {
    expect(plain(spreadWords({ rr: 0.04, ru: 0, uu: 0.01 }, false))).toMatch(/^± 0\.10° one way, ± 0\.2° across it$/)
    expect(plain(spreadWords({ rr: 0.04, ru: 0, uu: 0.04 }, false))).toBe('± 0.2°')
  })
})

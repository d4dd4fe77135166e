/** What happened without a word, as the end of a rehearsal says it. */
import { describe, expect, it } from 'vitest'
import { hiddenText } from '../../../src/ui/rehearse/endwords.ts'
import { plain } from '../../helpers/plain.ts'
import { countedPit } from '../../helpers/stations.ts'

describe('what happened without a word', () => {
  it('says which way and by how much the clock was off, and where a drive stops as that axis is read', () => {
    const clock = (seconds: number) => hiddenText(countedPit(), { kind: 'clock', seconds, naming: 'not' })
    expect([clock(243.375), clock(-150)].map(plain)).toEqual([
      'The clock was 4.1 minutes fast',
      'The clock was 2.5 minutes slow',
    ])
    const stop = (axis: 'lower' | 'upper', reading: number) =>
      plain(hiddenText(countedPit(), { kind: 'stop', axis, reading, naming: 'not' }))
    expect(stop('upper', 812.4)).toBe('The elevation stops at 812 counts, not where its label says')
    expect(stop('lower', 331.68)).toBe('The azimuth stops at 331.7°, not where its label says')
  })
})

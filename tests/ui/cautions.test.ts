/** What the cautions say: the gravest fact in one line, and of the transmitter only what holds where one's own echoes are heard. */
import { h } from 'preact'
import { render } from 'preact-render-to-string'
import { describe, expect, it } from 'vitest'
import type { Method, TargetRecord } from '../../src/core/records/fieldbook.ts'
import { READY } from '../../src/ui/book/readywords.ts'
import { FIRST_MOVE } from '../../src/ui/kit/firstmove.ts'
import { CAUTIONS } from '../../src/ui/kit/mount/words.ts'
import { emptySightForm } from '../../src/ui/kit/sighting/form.ts'
import { MethodCaution } from '../../src/ui/kit/sighting/MethodFields.tsx'
import { CAUTION } from '../../src/ui/kit/sighting/words.ts'
import { FEED_ROW } from '../../src/ui/noise/rowwords.ts'
import { NOISE } from '../../src/ui/noise/words.ts'
import { ScanCaution } from '../../src/ui/scan/SightDriftParts.tsx'
import { DRIVE_CAUTION } from '../../src/ui/sight/drivewords.ts'
import { SIGHT } from '../../src/ui/sight/words.ts'
import { COUNTS } from '../../src/ui/swing/words.ts'
import { smallBook } from '../helpers/smallbook.ts'

const ALL = [
  ...Object.values(CAUTIONS),
  CAUTION.moon,
  NOISE.loadCaution,
  FEED_ROW.caution,
  SIGHT.readerCaution,
  ...Object.values(DRIVE_CAUTION),
  FIRST_MOVE,
  COUNTS.caution,
  READY.site,
]

describe('every caution', () => {
  it('has its gravest fact in one sentence of three lines at most on a small phone, and an act of its own', () => {
    for (const { act, gravest } of ALL) {
      expect(gravest, act).toMatch(/^[^.]+\.$/)
      expect(gravest.length, act).toBeLessThanOrEqual(85)
    }
    expect(new Set(ALL.map(c => c.act)).size).toBe(ALL.length)
  })
})

describe('the transmitter', () => {
  const [station] = smallBook().stations
  const scan = (target: TargetRecord) => render(h(ScanCaution, { station: station!, target }))
  const sighting = (target: 'moon' | 'sun', method: Method) =>
    render(h(MethodCaution, { form: { ...emptySightForm('mm'), target, method } }))

  it('is never said to be off on the Moon, which is found by one’s own echoes: keyed while nobody is in front', () => {
    for (const html of [scan({ type: 'moon' }), sighting('moon', 'signal-peak')]) {
      expect(html).toContain('Key only while nobody is in front of the dish.')
      expect(html).not.toMatch(/transmitter off/i)
    }
  })

  it('is off where nothing is heard but noise', () => {
    expect(scan({ type: 'sun' })).toContain('Transmitter off')
    expect(scan({ type: 'source', name: 'Cygnus A' })).toContain('Transmitter off')
  })
})

/** What is drawn has no line's end between a number and its unit; what is exported or copied is left alone. */
import { Fragment, h } from 'preact'
import { renderToString } from 'preact-render-to-string'
import { describe, expect, it } from 'vitest'
import { joined } from '../../../src/ui/kit/joined.ts'

/** A blank that holds as "_". */
const seen = (html: string) => html.replaceAll('\u00a0', '_')
const drawn = (...children: (string | number | object)[]) =>
  seen(renderToString(h('p', null, ...(children as string[]))))

describe('a number and its unit', () => {
  it('are joined, and ± with its number', () => {
    expect(seen(joined('At 55 % of 1.2 cm, 10 GHz, 0.1 dB, 29.6 dBi, 20 s, 75 K: ± 0.3'))).toBe(
      'At 55_% of 1.2_cm, 10_GHz, 0.1_dB, 29.6_dBi, 20_s, 75_K: ±_0.3',
    )
    expect(seen(joined('12 counts, 40 km/h, 24 UTC, (3 in), 0.0625 in. 2 m²'))).toBe(
      '12_counts, 40_km/h, 24_UTC, (3_in), 0.0625_in. 2_m²',
    )
  })

  it('are words otherwise: nothing is joined', () => {
    for (const text of ['85 in the south', '3 sightings', '12 more, 5 hours', '2 months', 'the 7 minutes', '± sign'])
      expect(joined(text)).toBe(text)
  })

  it('are joined in any element, where they are pieces, in a fragment and in a list', () => {
    expect(drawn('good to 5 dB')).toBe('<p>good to 5_dB</p>')
    expect(drawn(5, ' dB, ± ', 3, ' s')).toBe('<p>5_dB, ±_3_s</p>')
    expect(drawn('5', h('b', null, 'x'), ' dB')).toBe('<p>5<b>x</b> dB</p>')
    expect(seen(renderToString(h(Fragment, null, '5 dB')))).toBe('5_dB')
    expect(drawn(['1 mm, ', '2 mm'])).toBe('<p>1_mm, 2_mm</p>')
  })

  it('keep their blanks where a text is copied by hand, and on the way through a component', () => {
    expect(renderToString(h('pre', null, '5 dB'))).toBe('<pre>5 dB</pre>')
    let got = ''
    const Copy = ({ children }: { children: string }) => {
      got = children
      return null
    }
    renderToString(h(Copy, null, '5 dB'))
    expect(got).toBe('5 dB')
  })
})

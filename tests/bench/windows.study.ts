/** How long windows take, warm, ms: 28 days of the Moon for each mount, degrees and jacks, alone and with a partner. Goal: 200. */
import { windows } from '../../src/core/questions.ts'
import { bookOf, drawScene, KINDS, START_MS, utcOf } from '../helpers/simulate.ts'

export default () =>
  Object.fromEntries(
    KINDS.flatMap(kind =>
      (['degrees', 'jack'] as const).flatMap(readout =>
        [false, true].map(hasPartner => {
          const book = bookOf(drawScene(31, { kind, lower: readout, upper: readout, latDeg: 48 }).record)
          const ask = () =>
            windows(book, {
              now: utcOf(START_MS),
              target: { type: 'moon' },
              fromUtc: utcOf(START_MS),
              days: 28,
              ...(hasPartner && { partner: { latDeg: 52, lonDeg: 13 } }),
            })
          for (let k = 0; k < 3; k++) ask()
          const times = Array.from({ length: 9 }, () => {
            const t = performance.now()
            ask()
            return performance.now() - t
          }).sort((a, b) => a - b)
          return [
            `${kind}, ${readout}${hasPartner ? ', partner' : ''}`,
            { leastMs: Math.round(times[0]!), medianMs: Math.round(times[4]!) },
          ]
        }),
      ),
    ),
  )

/**
 * How long windows take, warm, ms: 28 days of the Moon for each mount, degrees and jacks, alone and with a partner (goal: 200); and
 * what a mount would reach in a year, the 18.6 years with it (goal for the year: 1000).
 */
import { willReach, windows } from '../../src/core/questions.ts'
import { bookOf, drawScene, KINDS, START_MS, utcOf } from '../helpers/simulate.ts'

const spells = () =>
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

const reach = () =>
  Object.fromEntries(
    KINDS.map(kind => {
      const { site, mount } = drawScene(31, { kind, latDeg: 48 }).record
      const times = Array.from({ length: 5 }, () => {
        const t = performance.now()
        willReach({ site, mount, year: 2026 })
        return performance.now() - t
      }).sort((a, b) => a - b)
      return [kind, { leastMs: Math.round(times[0]!), medianMs: Math.round(times[2]!) }]
    }),
  )

export default () => ({ windows28Days: spells(), willReach: reach() })

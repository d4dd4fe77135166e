/**
 * Twenty-four invented stations of all four kinds and all readouts, their truths drawn from the default priors
 * (tests/helpers/simulate.ts), fitted by the method and by a plain fit that is told which sightings are wrong.
 * `npm run studies paired` takes 200 and more of them, with 8 sightings too.
 */
import { beforeAll, describe, expect, it } from 'vitest'
import { type Pooled, pooled, type Trial, trials } from '../../helpers/paired.ts'

const STATIONS = 24
/** 12 to 20 sightings. */
const sightingsOf = (seed: number): number => 12 + (seed % 9)

const line = (name: string, p: Pooled): string =>
  `${name}: ${p.stations} stations, rms ratio ${p.ratio.toFixed(4)} (worst ${p.worst.toFixed(3)}, above 1.05 in ${p.worse}), actual/stated ${p.coverage.toFixed(3)}, wrong ${p.wrong}, missed ${p.missed}, accused ${p.accused} of ${p.sightings}, counter steps claimed ${p.stepsClaimed}, median solve ${p.msMedian.toFixed(0)} ms`

describe('paired Monte Carlo, all sightings good', () => {
  let all: Trial[] = []
  beforeAll(() => {
    all = trials(STATIONS, 1000, sightingsOf, 0)
    console.log(line('clean', pooled(all)))
  }, 120_000)

  it('points no worse than 1.02 × the plain fit of all sightings', () => {
    expect(pooled(all).ratio).toBeLessThanOrEqual(1.02)
  })

  it('states its error within 0.8 to 1.25 of the actual one', () => {
    // 24 stations with a handful of freedoms each settle the ratio to about 0.08.
    expect(pooled(all).coverage).toBeGreaterThan(0.85)
    expect(pooled(all).coverage).toBeLessThan(1.15)
  })

  it('accuses at most 1 of some 380 good sightings: each has a chance of 1 in 10 000', () => {
    expect(pooled(all).accused).toBeLessThanOrEqual(1)
  })

  it('claims no counter step and no clock error where nothing is wrong', () => {
    expect(all.flatMap(t => t.steps)).toEqual([])
    expect(all.flatMap(t => t.otherSuspects)).toEqual([])
  })
})

describe('paired Monte Carlo, a quarter of the sightings plain wrong', () => {
  let all: Trial[] = []
  let clear: Trial[] = []
  beforeAll(() => {
    all = trials(STATIONS, 1000, sightingsOf, 0.25)
    // A wrong sighting alone in its corner of the sky can be 8 σ off by its own σ and still go with what the others
    // leave open: no fit can tell. Plain wrong is what the fit that is told calls wrong by 8 σ, its own σ included.
    clear = all.filter(t => t.doubtful === 0)
    console.log(line('a quarter wrong by 8 σ of the sighting', pooled(all)))
    console.log(line('a quarter wrong by 8 σ of the prediction', pooled(clear)))
  }, 180_000)

  it('points no worse than 1.05 × the fit that is told', () => {
    expect(clear.length).toBeGreaterThan(0.75 * STATIONS)
    expect(pooled(clear).ratio).toBeLessThanOrEqual(1.05)
  })

  it('finds every wrong sighting that can be told', () => {
    expect(pooled(clear).missed).toBe(0)
  })

  it('takes single blunders for a counter step in at most 1 station of 24', () => {
    expect(pooled(all).stepsClaimed).toBeLessThanOrEqual(1)
  })
})

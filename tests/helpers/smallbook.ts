/**
 * A small legal field book that uses nearly every field, invented. A fresh copy each time: tests break it.
 */
import { gravelPit } from './stations.ts'

// biome-ignore lint/suspicious/noExplicitAny: tests put anything into it
export type AnyBook = any

export const smallBook = (): AnyBook => ({
  format: 'moonplumb-fieldbook',
  version: 1,
  exportedUtc: '2026-05-01T12:00:00Z',
  stations: [
    {
      id: 'st-1',
      name: 'Quarry rim',
      notes: 'gate key under the stone',
      site: { latDeg: 47.1, lonDeg: 9.3, heightM: 640, air: { pressureHPa: 940, temperatureC: 11, humidityPct: 60 } },
      dish: {
        diameterM: 3,
        focalRatio: 0.4,
        surfaceRmsMm: 2,
        feedDiameterMm: 180,
        measured: {
          utc: '2026-04-25T10:00:00Z',
          diameterMm: 3000,
          depthMm: 468.75,
          rims: [
            {
              utc: '2026-04-25T10:20:00Z',
              feed: 'a',
              seenFrom: 'front',
              distances: [
                { clock: 12, mm: 1671 },
                { clock: 4, mm: 1668 },
                { clock: 8, mm: 1675 },
              ],
            },
          ],
        },
      },
      feeds: [
        {
          id: 'a',
          name: '23 cm ring feed',
          frequencyMHz: 1296,
          beamwidthDeg: 5.2,
          systemTemperatureK: 80,
          hearsMoonEchoes: true,
        },
        { id: 'b', name: '9 cm horn', frequencyMHz: 3400 },
      ],
      mount: {
        kind: 'az-over-el',
        headingDeg: 170,
        boresightOffsetDeg: -5,
        lower: {
          readout: { type: 'linear-counts', zeroCounts: 10, countsPerDeg: -12.5 },
          minReading: 0,
          maxReading: 900,
        },
        upper: {
          readout: {
            type: 'jack',
            baseArmMm: 620,
            rodArmMm: 410,
            lengthAtReadingZeroMm: 560,
            countsPerMm: 1.9,
            phiAtAngleZeroDeg: 62.3,
            direction: 1,
          },
          minReading: 0,
          maxReading: 820,
        },
      },
      tolerance: { echoLossDb: 0.5, minElevationDeg: 8, floorDeg: 0.1 },
      horizonMask: [
        { azDeg: 0, elDeg: 5 },
        { azDeg: 180, elDeg: 2 },
      ],
      priors: [
        { id: 'level', value: 0.7, sigma: 0.15, measured: true },
        { id: 'feedRight:a', value: 4, sigma: 2 },
        { id: 'feedUp', feed: 'b', value: 0, sigma: 5 },
      ],
      adjusters: [],
      changes: [
        {
          id: 'ch-1',
          utc: '2026-04-28T08:00:00Z',
          what: ['lower-axis', 'feed:a'],
          note: 're-shimmed',
          expect: [{ id: 'heading', value: 0, sigma: 0.5 }],
        },
      ],
      references: [
        { id: 're-1', utc: '2026-04-27T19:00:00Z', axis: 'upper', mark: 'inner stop', reading: 3, sigmaDeg: 0.1 },
      ],
      sightings: [
        {
          id: 'si-1',
          utc: '2026-04-27T20:14:05Z',
          clockOffsetS: 1.5,
          target: { type: 'moon' },
          lower: 31.2,
          upper: 410,
          arrivedFrom: { lower: '+', upper: '-' },
          method: 'signal-peak',
          feed: 'a',
          offset: { rightDeg: 0.1, upDeg: -0.2 },
          sigmaDeg: 0.3,
          use: 'auto',
          note: '',
          wind: 'gusts',
        },
        {
          id: 'si-2',
          utc: '2026-04-28T11:20:00.5Z',
          target: { type: 'sun' },
          lower: 500,
          upper: 300,
          method: 'shadow',
          feed: 'b',
          shadow: { rightMm: -12, upMm: 4 },
        },
        {
          id: 'si-3',
          utc: '2026-04-29T02:00:00Z',
          target: { type: 'source', name: 'Cygnus A' },
          lower: 400,
          upper: 200,
          method: 'drift-scan',
          feed: 'a',
          scan: 'sc-1',
          cov: { rr: 0.04, ru: 0.01, uu: 0.09 },
        },
        {
          id: 'si-4',
          utc: '2026-04-29T02:30:00Z',
          target: { type: 'geostationary', lonDeg: 13 },
          lower: 300,
          upper: 210,
          method: 'signal-peak',
          feed: 'a',
        },
        {
          id: 'si-5',
          utc: '2026-04-29T03:00:00Z',
          target: { type: 'landmark', azDeg: 120, elDeg: 3 },
          lower: 300,
          upper: 220,
          method: 'optical',
          use: 'never',
        },
      ],
      levels: [
        {
          id: 'le-1',
          utc: '2026-04-26T10:00:00Z',
          what: 'lower-axis-elevation',
          valueDeg: 0.4,
          sigmaDeg: 0.2,
          instrument: 'in-1',
          clamping: 'c1',
        },
        {
          id: 'le-2',
          utc: '2026-04-26T10:05:00Z',
          what: 'upper-axis-elevation',
          lower: 30,
          valueDeg: 44,
          sigmaDeg: 0.2,
        },
        { id: 'le-3', utc: '2026-04-26T10:10:00Z', what: 'mast-lean', northDeg: 0.1, eastDeg: -0.3, sigmaDeg: 0.2 },
        {
          id: 'le-4',
          utc: '2026-04-26T10:20:00Z',
          what: 'dish-elevation',
          lower: 30,
          upper: 410,
          valueDeg: 29.1,
          sigmaDeg: 0.3,
        },
      ],
      scans: [{ id: 'sc-1', samples: [1, 2, 3] }],
      noise: [
        {
          id: 'no-1',
          utc: '2026-04-29T10:00:00Z',
          feed: 'a',
          of: 'sun',
          levels: { hot: -61.5, cold: -71.1, unit: 'dB' },
          fluxSfu: 55,
          air: { zenithDb: 0.04, elDeg: 51 },
        },
      ],
      clockChecks: [
        {
          id: 'cc-1',
          utc: '2026-04-27T19:00:00Z',
          offsetS: 0.32,
          sigmaS: 0.1,
          by: 'taps',
          pips: 'second',
          wholeS: 0,
          tapsMs: [1777316400320, 1777316401330, 1777316402310],
          note: 'short wave',
        },
      ],
      instruments: [
        { id: 'in-1', name: 'box level' },
        {
          id: 'in-2',
          name: 'Phone, long edge',
          type: 'phone',
          edge: 'long',
          phone: 'a1b2c3d4',
          bias: { utc: '2026-05-01T10:00:00Z', biasDeg: 0.4, sigmaDeg: 0.11, atDeg: 12, about: 'x' },
        },
      ],
      checks: [
        { id: 'storm-1', utc: '2026-05-02T09:00:00Z', kind: 'storm', feed: 'a', peak: 'si-1', verdict: 'as-before' },
      ],
    },
  ],
})

/** An empty station far south, with a small dish for 5760 MHz. */
export const bareStation = (id: string): AnyBook =>
  gravelPit({
    id,
    name: `Station ${id}`,
    site: { latDeg: -33, lonDeg: 151, heightM: 10 },
    dish: { diameterM: 2, focalRatio: 0.4 },
    feeds: [{ id: 'a', name: 'feed', frequencyMHz: 5760 }],
  })

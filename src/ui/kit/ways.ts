/** The ways from one subject to another: what a screen is called by those that lead to it. */
import { FIRST_WAYS } from './firstways.ts'

export const WAYS = {
  ...FIRST_WAYS,
  noon: 'Noon check',
  storm: 'After a storm',
  noise: 'Noise',
  drift: 'Drift scan',
  cross: 'Cross scan',
  feed: 'Shadow against signal',
  dish: 'Measure the dish',
  reach: 'Will it reach?',
  moved: 'Has it moved?',
  stormOpen: 'Storm check: what it says now',
} as const

/**
 * How honest the phone's ± is: 1000 invented phones for each way of measuring and each source. The stated 2 σ should cover
 * 93 to 98 %, and the median stated σ should be at most 1.3 times the rms of what it is off by.
 */
import { PHONE_METHODS, phoneResult, phoneTrials, SOURCES } from '../helpers/phonetrials.ts'

const rounded = (result: object) =>
  Object.fromEntries(Object.entries(result).map(([k, v]: [string, number]) => [k, Number(v.toFixed(3))]))

export default async () =>
  Object.fromEntries(
    SOURCES.map(source => [
      source,
      Object.fromEntries(
        PHONE_METHODS.map((method, i) => [method, rounded(phoneResult(phoneTrials(method, source, 1000, 7000 + i)))]),
      ),
    ]),
  )

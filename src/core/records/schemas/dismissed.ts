/** A suspect that the person has dismissed, as one text: "counter-step upper 2026-10-10T04:00:00Z 2026-10-12T04:00:00Z 31". */
import * as v from 'valibot'
import { isInstant } from '../instant.ts'

/** Stands for an axis, feed or instant that a suspect is not about. */
export const ABOUT_NOTHING = '-'

const RULE =
  'must be a suspect, the axis or feed it is about, from when, until when (a "-" for each that it does not have) and its evidence, such as "counter-step upper 2026-10-10T04:00:00Z 2026-10-12T04:00:00Z 31"'

/** What it is about may hold blanks, as programs before version 0.2 wrote the ids of feeds. */
const PARTS = /^[a-z]+(?:-[a-z]+)* \S.* (\S+) (\S+) \d+$/

const isDismissal = (said: string): boolean =>
  PARTS.exec(said)
    ?.slice(1)
    .every(instant => instant === ABOUT_NOTHING || isInstant(instant)) ?? false

export const DismissedSchema = v.pipe(v.string(RULE), v.check(isDismissal, RULE))

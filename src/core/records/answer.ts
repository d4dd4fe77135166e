/**
 * An answer that can say no: a value, or every fault found. What happens in the field is an answer, not an exception.
 */

/** One broken rule: where, as `stations[0].sightings[3].utc` ('' is the file as a whole), and one plain sentence, one line. */
export interface Fault {
  path: string
  rule: string
}

export type Answer<T> = { ok: true; value: T } | { ok: false; faults: Fault[] }

export const yes = <T>(value: T): Answer<T> => ({ ok: true, value })

export const no = (path: string, rule: string): { ok: false; faults: Fault[] } => ({
  ok: false,
  faults: [{ path, rule }],
})

/** A fault as one line, for a terminal or a list on the screen. */
export const lineFromFault = (fault: Fault): string => (fault.path === '' ? fault.rule : `${fault.path}: ${fault.rule}`)

/** What the methods of a sighting are called, on screens and in the report; in the order of the report. */
import type { Method } from './fieldbook.ts'

export const METHOD_WORDS: Readonly<Record<Method, string>> = {
  'signal-peak': 'strongest signal',
  'cross-scan': 'cross scan',
  'drift-scan': 'drift scan',
  shadow: "feed's shadow",
  optical: 'sighting tube',
}

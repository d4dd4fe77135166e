/** Reads tests/authorities/scan. */
import { readFileSync } from 'node:fs'

// biome-ignore lint/suspicious/noExplicitAny: outside tables, shapes described in their own files
export const authority = (name: string): any =>
  JSON.parse(readFileSync(new URL(`../../authorities/scan/${name}`, import.meta.url), 'utf8'))

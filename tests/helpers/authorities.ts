/** Reads tests/authorities: numbers from outside, each file with its origin. */
import { readFileSync } from 'node:fs'

/** @param name  folder and file: `sky/refraction.json` */
// biome-ignore lint/suspicious/noExplicitAny: outside tables, shapes described in their own files
export const authority = (name: string): any =>
  JSON.parse(readFileSync(new URL(`../authorities/${name}`, import.meta.url), 'utf8'))

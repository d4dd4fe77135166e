/**
 * What the tests of other engines ask of a browser, the same few verbs for each: a phone-sized window on a profile that
 * outlives a kill. `firefox.ts` and `webkit.ts` are the two; everything else here knows only this.
 */

/** As a small phone has it, in CSS pixels. */
export const WINDOW = { width: 390, height: 844 }

/** Something that can be touched. */
export interface Found {
  /** A press in its middle, by the browser's own input. */
  press(): Promise<void>
  /** In place of what stands in it, key by key. */
  type(text: string): Promise<void>
}

export interface Browser {
  go(url: string): Promise<void>
  /** Runs in the page. @param fn  whole in itself: nothing outside it is there */
  evaluate<Args extends readonly unknown[], T>(fn: (...args: Args) => T | Promise<T>, ...args: Args): Promise<T>
  /** What `fn`, run in the page, answers: an element, or null. */
  find<Args extends readonly unknown[]>(fn: (...args: Args) => Element | null, ...args: Args): Promise<Found | null>
  /** The window as a PNG. */
  picture(): Promise<Buffer>
  /** Console errors and errors that nobody caught, since the start. */
  complaints(): readonly string[]
  /** SIGKILL for the browser and every process that it started. */
  kill(): Promise<void>
  close(): Promise<void>
}

export interface StartOptions {
  /** All that the browser lets its pages keep; default: no limit of ours. */
  roomKb?: number
}

export interface Kept {
  /** Folder of the database, SQLite in both. */
  database: string
  /** Folder of the second copy; the program's own parts lie there too. */
  caches: string
}

export interface Engine {
  name: 'firefox' | 'webkit'
  /** In words, with its version. */
  what: string
  /** Whether the room for its pages can be limited. */
  canBeFull: boolean
  /** Where a profile keeps what the pages of one host keep. @param port  of the host, on localhost */
  kept(profile: string, port: number): Kept
  start(profile: string, options?: StartOptions): Promise<Browser>
}

/** What a sentence reads like: its no-break spaces as plain ones, so that a test can be typed. No sentence stays none. */
export const plain = <T extends string | null | undefined>(text: T): T => text?.replaceAll('\u00a0', ' ') as T

/** The same with the marks gone that hold a person's own words together. */
export const unmarked = (text: string): string => plain(text).replace(/[\u2068\u2069]/g, '')

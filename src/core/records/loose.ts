/** An object with any keys: all that is known of a value before its shape is checked. An array is none. */
export type Loose = Record<string, unknown>

export const isLoose = (x: unknown): x is Loose => typeof x === 'object' && x !== null && !Array.isArray(x)

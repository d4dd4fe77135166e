/** The digits that a computed number keeps when it becomes part of a record: people read the file too. */

/** To six decimals, half upward: nobody measures finer, in degrees or in millimetres. */
export const round6 = (x: number): number => Math.round(x * 1e6) / 1e6

/** To so many decimals, half away from 0. */
export const rounded = (x: number, decimals: number): number => Number(x.toFixed(decimals))

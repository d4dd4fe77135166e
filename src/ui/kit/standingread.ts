import { signal } from '@preact/signals'

/** The person has read that the database does not open, and goes on with what there is. */
export const standingRead = signal(false)

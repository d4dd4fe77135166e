/** The outcome of an export, also for where a screen could not be drawn. */
export const HANDED = {
  shared: 'Shared.',
  copied: 'Copied. Paste it where it should go, a message to yourself for one.',
  started: 'Saving. Look in the downloads.',
  cancelled: 'Not shared.',
  refused: 'The phone refused. Try another way, or select the text below and copy it by hand.',
} as const

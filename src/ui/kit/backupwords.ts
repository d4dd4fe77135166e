/** Words of a backup: whether it is known to have arrived, and the ways of exporting a text. */
import { countOf, fixed, NBSP } from './format.ts'

/** A backup counts when it is known to have arrived. */
export const BACKUP = {
  word: 'Is the backup there?',
  saved: 'It counts as your backup when you have seen the file in the downloads:',
  copied: 'It counts as your backup when you have pasted the text where it stays:',
  yes: 'Yes, it is there',
  no: 'No, it is not',
  compare: 'Compare the file',
  compareHint: 'Choose the saved file: it is compared with what was exported, letter by letter.',
  other: 'This is not the file that was exported last, or not all of it. Export once more.',
  otherWay: 'Export another way',
  counted: 'This is your last backup now.',
  unsound:
    'The exported text could not be imported again, so it does not count as a backup. Keep it all the same, and report it:',
  tooLarge: (mb: string) =>
    `This would be a file of ${mb}${NBSP}MB, and at most 50${NBSP}MB can be imported again. Export the stations one by one.`,
} as const

/** The ways of exporting a text, and what is said of each. */
export const HAND_ON = {
  share: 'Share',
  copy: 'Copy the text',
  download: 'Save as a file',
  codes: 'Show as codes',
  text: 'The text itself',
  size: (bytes: number) => (bytes < 1024 ? countOf(bytes, 'byte') : `${fixed(bytes / 1024, 0)}${NBSP}kB`),
} as const

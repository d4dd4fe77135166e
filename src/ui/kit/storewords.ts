/** What is said where the database does not open, or does not take what is written. Loaded once the first screen stands. */
import { countOf, safeText } from './format.ts'
import { EXPORT_BACKUP } from './phrases.ts'

/** The database does not open: the book is shown from the second copy, or the page has only its memory. */
export const STANDING = {
  copyWord: 'Shown from the second copy',
  copyLine: 'The database does not open. What you enter goes into the second copy alone.',
  memoryWord: 'Nothing is kept',
  memoryLine: 'What you enter is gone when this page closes. Export a backup before that.',
  takenWord: 'A newer Moonplumb has taken over',
  takenLine:
    'Moonplumb was updated in another tab, and this page can no longer write to the book. What you typed is kept: load this page again.',
  whatToDo: 'What to do',
  copy: (records: number) =>
    records === 0
      ? 'The second copy on this phone is empty. What you enter goes into it, and into the database when that opens.'
      : `The book is shown from the second copy on this phone. You can read it, work in it and export it: what you enter goes into the second copy, and into the database when that opens.`,
  memory:
    'This browser keeps nothing for this page, neither a database nor a second copy. You can work, but everything is gone when the page closes. Export a backup before that.',
  again: 'Try again',
  reload: 'Load this page again',
  exportIt: EXPORT_BACKUP,
  remake: 'Rebuild the database',
  remakeWhy: (records: number) =>
    records === 0
      ? 'If nothing else helps: delete the database and begin with an empty one. The second copy is empty, so nothing comes back. Export a backup first.'
      : 'If nothing else helps: delete the database and fill a new one from the second copy. Export a backup first.',
  sure: 'Delete the old database? Anything only it holds is lost. What you see in the book now comes back.',
  sureEmpty: 'Delete the old database? Nothing comes back.',
  yes: 'Delete it and rebuild it',
  no: 'Leave it',
  trying: 'Trying…',
  stillNot: (tries: number) => `Tried ${tries === 1 ? 'once' : `${tries} times`}: it does not open yet.`,
  remakeFailed:
    'The database could not be rebuilt. Close all tabs of Moonplumb, restart the browser or the phone, and try again. The second copy is as it was.',
  show: 'Show me the book',
} as const

/** Why the database does not open, and what to do. */
export function notOpenWords(failure: { kind: string }): string {
  switch (failure.kind) {
    case 'blocked':
      return 'Another tab still holds an older version of the database. Close the other tabs of Moonplumb, then press "Try again".'
    case 'newer-tab':
      return 'The database was last used by a newer version of Moonplumb than this page. Press "Load this page again" to get the newest version.'
    case 'full':
      return 'The phone has no room left to open the database. Make room, then press "Try again".'
    case 'dropped':
      return 'The browser did not open the database in time. Press "Try again"; if that does not help, restart the browser.'
    default:
      return 'The browser does not open the database: it is damaged, or switched off (a private window). Press "Try again"; if that does not help, restart the browser, or use an ordinary window.'
  }
}

/** What stands after "Try again" failed too. */
export const FAILURE = {
  retry: 'Try again',
  exportIt: EXPORT_BACKUP,
  reload: 'Load this page again',
  again: (tries: number, waiting: number) =>
    `Tried ${tries === 1 ? 'once more' : `${tries} times more`}, and not kept: ${countOf(waiting, 'thing')} ${waiting === 1 ? 'waits' : 'wait'}. Leave this page open, and export a backup: what waits is in it.`,
  details: (kind: string, message: string | undefined) =>
    `What the browser says, for anyone who helps you: ${safeText(message ?? kind)} (${kind}).`,
} as const

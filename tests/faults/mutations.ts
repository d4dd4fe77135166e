/**
 * Changes to the code that would lose somebody's work, one patch each in `mutations/`: a sentence what it does, the file and
 * title of the test that must turn red, and the change as `diff -u` writes it.
 */
import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'

export interface Mutation {
  name: string
  what: string
  /** Which must turn red: its file, and how its title begins. */
  test: string
  title: string
  file: string
  /** Lines there, and what stands in their place. */
  hunks: readonly { old: string; new: string }[]
}

const FOLDER = 'tests/faults/mutations'

export function mutationFrom(name: string, text: string): Mutation {
  const [head = '', ...rest] = text.split(/^(?=--- a\/)/m)
  const [what = '', where = ''] = head.trim().split('\n\n')
  const [test = '', title = ''] = where.replace('Turns red: ', '').split('\n')
  const patch = rest.join('')
  const file = /^\+\+\+ b\/(.+)$/m.exec(patch)?.[1]
  const hunks = patch.split(/^@@ .*\n/m).slice(1)
  if (rest.length !== 1 || file === undefined || hunks.length === 0 || title === '')
    throw new RangeError(`${name}: must be a sentence, a test and a patch of one file`)
  const side = (hunk: string, left: '-' | '+') =>
    hunk
      .split('\n')
      .filter(line => line.startsWith(' ') || line.startsWith(left))
      .map(line => `${line.slice(1)}\n`)
      .join('')
  return { name, what, test, title, file, hunks: hunks.map(hunk => ({ old: side(hunk, '-'), new: side(hunk, '+') })) }
}

export const mutations = (): Mutation[] =>
  readdirSync(FOLDER)
    .filter(name => name.endsWith('.patch'))
    .sort()
    .map(name => mutationFrom(name.replace('.patch', ''), readFileSync(join(FOLDER, name), 'utf8')))

/** @throws RangeError  the lines are not there, or more than once */
export function mutated(source: string, { name, file, hunks }: Mutation): string {
  return hunks.reduce((text, hunk) => {
    const parts = text.split(hunk.old)
    if (parts.length !== 2)
      throw new RangeError(`${name}: its lines must stand in ${file} once, found ${parts.length - 1}`)
    return parts.join(hunk.new)
  }, source)
}

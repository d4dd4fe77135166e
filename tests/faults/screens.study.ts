/**
 * Legal mutants of a book with everything in it that the program writes, and the example books, through every screen: nothing may
 * throw there, and no sentence, form or drawing may say NaN, undefined or null.
 */
import { readdirSync, readFileSync } from 'node:fs'
import type { FieldBook } from '../../src/core/records/fieldbook.ts'
import { checkFieldBook } from '../../src/core/records/intake.ts'
import { everyScreen, type Wrong } from '../helpers/everyscreen.ts'
import { legalMutant } from '../helpers/mutants.ts'
import { seeded } from '../helpers/random.ts'
import { writtenBook } from '../helpers/writtenbook.ts'

/** About a second each. */
const BOOKS = 50

export default async function study() {
  const random = seeded(20_261_128)
  const isLegal = (book: FieldBook) => checkFieldBook(book).length === 0
  const examples: FieldBook[] = readdirSync('tests/examples')
    .filter(name => name.endsWith('.fieldbook.json'))
    .map(name => JSON.parse(readFileSync(`tests/examples/${name}`, 'utf8')))
  const wrong: Wrong[] = []
  let screens = 0
  for (let k = 0; k < BOOKS; k++) {
    const shown = await everyScreen(examples[k] ?? legalMutant(writtenBook(), random, isLegal))
    screens += shown.screens
    wrong.push(...shown.wrong)
    if (k % 10 === 9) console.error(`screens: ${k + 1} books, ${screens} screens, ${wrong.length} wrong`)
  }
  if (wrong.length > 0) throw new Error(`screens: ${JSON.stringify(wrong.slice(0, 5), null, 2)}`)
  return { books: BOOKS, screens, wrong: wrong.length }
}

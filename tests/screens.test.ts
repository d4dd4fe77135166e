/** Every screen of a book with all in it that the program writes, and of what the intake lets pass of its mutants (more: faults). */
import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { checkFieldBook } from '../src/core/records/intake.ts'
import { everyScreen } from './helpers/everyscreen.ts'
import { legalMutant } from './helpers/mutants.ts'
import { seeded } from './helpers/random.ts'
import { drawn } from './helpers/share.ts'
import { writtenBook } from './helpers/writtenbook.ts'

// Some four seconds of work; a machine with much else to do takes long over it.
describe('every screen', { timeout: 300_000 }, () => {
  it('of a book with everything in it stands, without NaN, undefined or null in its words, no number parted from its unit', async () => {
    const { screens, wrong, said } = await everyScreen(writtenBook())
    expect(wrong).toEqual([])
    expect(screens).toBeGreaterThan(120)
    // The answers were there: what is worth doing next is said only of a solution.
    expect(said('correct/known')).toMatch(/known well enough|as measured/)
  })

  drawn('of the demo stands likewise', async () => {
    const demo = JSON.parse(readFileSync(new URL('../public/demo.fieldbook.json', import.meta.url), 'utf8'))
    const { screens, wrong } = await everyScreen(demo)
    expect(wrong).toEqual([])
    expect(screens).toBeGreaterThan(200)
  })

  it('of a station with nothing recorded says only what is known, whichever address it is come to by', async () => {
    const book = writtenBook()
    const [station] = book.stations
    for (const list of ['levels', 'references', 'changes', 'noise', 'halfSightings', 'checks', 'scans', 'alignment'])
      delete station[list]
    station.sightings = []
    const { wrong, said } = await everyScreen(book)
    expect(wrong).toEqual([])
    const missing = /No sightings yet|No sighting counts yet/
    for (const which of ['', '/page', '/lower', '/upper', '/budget', '/recipe'])
      expect(said(`correct/software${which}`), which).toMatch(missing)
    for (const address of ['correct', 'correct/report']) expect(said(address), address).toMatch(missing)
    expect(said('correct/software/page')).not.toContain('0.00°')
    expect(said('correct/report')).not.toMatch(/>Nothing\.<|>miss</)
    expect(said('correct/sky')).not.toMatch(/>miss</)
    expect(said('correct/moved')).toMatch(/nothing has been measured/)
    expect(said('correct/software/check')).toMatch(/Nothing was carried over yet/)
  })

  // Fifty by npm run faults.
  drawn('of a legal mutant stands', async () => {
    const book = legalMutant(writtenBook(), seeded(20_261_128), b => checkFieldBook(b).length === 0)
    expect((await everyScreen(book)).wrong).toEqual([])
  })

  it('is seen to throw where a level came in without being looked at', async () => {
    const book = writtenBook()
    book.stations[0].levels[2].raw = { around: 5 }
    const address = 'mount/see/level/le-3'
    const { wrong } = await everyScreen(book, [address])
    expect(wrong.map(w => w.address)).toEqual([address])
  })
})

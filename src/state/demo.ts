/** The demo station: an invented scenario, fetched from the app's own cache and kept like any other station. */
import { fieldBook } from './book.ts'

/** Brings the demo station in and shows it. @returns false when it could not be read or kept */
export async function openDemo(): Promise<boolean> {
  try {
    const { readFieldBook } = await import('../core/records/intake.ts') // large, and needed here alone on the first screen
    const text = await (await fetch('./demo.fieldbook.json')).text()
    const read = readFieldBook(text)
    if (!read.ok) return false
    const kept = await fieldBook.importBook(read.value)
    if (kept.kind !== 'done') return false
    fieldBook.chooseStation(read.value.stations[0]!.id)
    return true
  } catch {
    return false
  }
}

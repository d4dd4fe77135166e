/** How long pasted logs take that once cost the square of their length: a line ten times as long may cost ten times as much. */
import { pastedLevels } from '../../src/core/import/levels.ts'
import { readFieldBook } from '../../src/core/records/intake.ts'

const LINES: Record<string, (n: number) => string> = {
  'blanks after a date': n => `2026-05-01${' '.repeat(n)}x,4`,
  'blanks before a unit': n => `10:00:00,4${' '.repeat(n)}x`,
  digits: n => `10:00:00,${'1'.repeat(n)}x`,
  'digits of a second': n => `10:00:00.${'0'.repeat(n)}x,1`,
  times: n => '10:00:00 '.repeat(n / 9),
  'short lines': n => '10:00:00,1\n'.repeat(n / 11),
}

export default async function study() {
  const figures: Record<string, { ms: number; growth: number }> = {}
  const timed = (work: () => void): number => {
    const began = performance.now()
    work()
    return performance.now() - began
  }
  for (const [name, line] of Object.entries(LINES)) {
    const [few, many] = [line(200_000), line(2_000_000)]
    pastedLevels(few, 0)
    const [a, b] = [timed(() => pastedLevels(few, 0)), timed(() => pastedLevels(many, 0))]
    figures[name] = { ms: Math.round(b), growth: Number((b / Math.max(a, 1)).toFixed(1)) }
    if (b > 3000) throw new Error(`${name}: ${b} ms for two million characters`)
  }
  const brackets = timed(() => readFieldBook('['.repeat(2_000_000)))
  return { ...figures, brackets: Math.round(brackets) }
}

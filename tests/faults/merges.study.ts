/**
 * 10 000 drawn histories of two and three phones that edit one book, throw records and the whole station away, bring each
 * other's files in (questions answered at random) and take that back; then everybody hands to everybody until nobody has news.
 * All must end with the same book, nothing may be asked or written by handing over once more, and no edit may be gone that
 * nobody decided against (tests/helpers/phones.ts keeps the account).
 */
import { drawnHistory, type Figures } from '../helpers/phones.ts'
import { chance } from '../helpers/random.ts'

const HISTORIES = Number(process.env.MERGES ?? 10_000)

export default async function study() {
  const total: Figures = { edits: 0, exchanges: 0, asked: 0, together: 0, removed: 0, undone: 0, refused: 0 }
  const bad: string[] = []
  let wrong = 0
  for (let seed = 1; seed <= HISTORIES; seed++) {
    const history = drawnHistory(chance(seed))
    for (const key of Object.keys(total) as (keyof Figures)[]) total[key] += history.figures[key]
    if (history.wrong.length === 0) continue
    wrong++
    if (bad.length < 5) bad.push(`seed ${seed}: ${history.wrong.slice(0, 3).join('; ')}`)
  }
  if (wrong > 0)
    throw new Error(`${wrong} of ${HISTORIES} merges went wrong\n${bad.join('\n')}\n${JSON.stringify(total)}`)
  return { histories: HISTORIES, ...total, wrong }
}

/** Twenty-eight kinds of damaged, missing or locked storage. Expected: nothing lost, nobody left without a way. */
import { damagedDatabases, damageWrong } from './damage.ts'

export default async function study() {
  const outcomes = await damagedDatabases(o =>
    console.error(`${o.damage}: ${o.shown}, ${o.exported}/${o.of} exported, ${o.healed}, ${o.afterwards} afterwards`),
  )
  const wrong = damageWrong(outcomes)
  if (wrong.length > 0) throw new Error(wrong.join('\n'))
  return outcomes
}

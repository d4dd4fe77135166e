/** Two tabs writing 1,000 records each. Expected: both whole, both screens right. */
import { tabsWrong, twoTabs } from './twotabs.ts'

export default async function study() {
  const figures = await twoTabs(1_000)
  const wrong = tabsWrong(figures)
  if (wrong) throw new Error(`${wrong}: ${JSON.stringify(figures)}`)
  return figures
}

/** 200 kills in the middle of writing. Expected: no acknowledged record lost, no half record. */
import { killsWhileWriting } from './kills.ts'

export default async function study() {
  const figures = await killsWhileWriting(200, 1)
  if (figures.acknowledgedLost > 0 || figures.halfRecords > 0 || figures.acknowledged < 200)
    throw new Error(`lost or halved: ${JSON.stringify(figures)}`)
  // Else the kills all fell into pauses, and the study shows nothing.
  if (figures.midWrite < 0.2 * figures.kills) throw new Error(`too few kills in mid-write: ${JSON.stringify(figures)}`)
  return figures
}

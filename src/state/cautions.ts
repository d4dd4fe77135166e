/** Which cautions were read today: in full the first time each day, in one line after that. Remembered on this phone. */
import { remember, remembered } from './memory.ts'
import { now } from './now.ts'

const KEY = 'moonplumb.cautions'

const today = (): string => new Date(now.peek()).toISOString().slice(0, 10)

/** The acts read today; anything else remembered under the key is ignored. */
function readOn(day: string): string[] {
  try {
    const kept: unknown = JSON.parse(remembered(KEY) ?? 'null')
    if (typeof kept !== 'object' || kept === null || !('day' in kept) || kept.day !== day) return []
    return 'acts' in kept && Array.isArray(kept.acts) ? kept.acts.filter(act => typeof act === 'string') : []
  } catch {
    return []
  }
}

/** Whether the cautions of an act were shown in full before today, UTC. */
export const wasCautioned = (act: string): boolean => readOn(today()).includes(act)

/** Call when they stood on the screen in full. */
export function cautioned(act: string): void {
  const day = today()
  const acts = readOn(day)
  if (!acts.includes(act)) remember(KEY, JSON.stringify({ day, acts: [...acts, act] }))
}

/** A screen's part that looks again and again, only while it stands and the page is seen. */
import { useEffect, useState } from 'preact/hooks'
import { whileSeen } from '../../state/whileseen.ts'

/** Draws the caller anew every so many ms. */
export function useTicking(ms: number): void {
  const [, again] = useState(0)
  useEffect(() => whileSeen(ms, () => again(n => n + 1)), [ms])
}

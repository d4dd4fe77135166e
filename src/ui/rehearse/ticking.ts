/** Redraws a part of a screen at intervals, only while it is mounted and the page is visible. */
import { useEffect, useState } from 'preact/hooks'
import { whileSeen } from '../../state/whileseen.ts'

/** Redraws the calling component every `ms`. */
export function useTicking(ms: number): void {
  const [, again] = useState(0)
  useEffect(() => whileSeen(ms, () => again(n => n + 1)), [ms])
}

/**
 * Hundreds of things on one screen, drawn piece by piece: the first at once, the rest while the page stays free to answer a
 * finger. When the things change, the old pieces stay until their turn comes.
 */
import { useEffect, useRef, useState } from 'preact/hooks'

/**
 * @param items  another array is another content: keep it while nothing changes
 * @param size   of a piece
 * @returns      pieces in order; one that is the same array as before needs no drawing
 */
export function useTurns<T>(items: readonly T[], size: number): readonly (readonly T[])[] {
  const pieces = useRef<(readonly T[])[]>([])
  const of = useRef<{ items: readonly T[]; count: number }>({ items: [], count: 0 })
  const [, turn] = useState(0)
  if (of.current.items !== items) of.current = { items, count: 0 }
  const all = Math.ceil(items.length / size)
  if (of.current.count < all) {
    const k = of.current.count++
    pieces.current[k] = items.slice(k * size, (k + 1) * size)
  }
  pieces.current.length = Math.min(pieces.current.length, all)
  const isWhole = of.current.count >= all
  useEffect(() => {
    if (isWhole) return
    const next = setTimeout(() => turn(n => n + 1), 0)
    return () => clearTimeout(next)
  })
  return pieces.current
}

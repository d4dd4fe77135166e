/** A list of hundreds of rows: drawn piece by piece, and a piece again only when its rows change. */
import { Component, type ComponentChild } from 'preact'
import { useTurns } from './turns.ts'

interface Rows<T> {
  /** Another array is another content: keep it while nothing changes. */
  items: readonly T[]
  keyOf: (item: T) => string
  draw: (item: T) => ComponentChild
}

/** Rows a piece: a few screenfuls. */
const PIECE = 25

export function LongList<T>({ label, class: look, items, ...how }: Rows<T> & { label: string; class: string }) {
  const pieces = useTurns(items, PIECE)
  return (
    <ul class={look} aria-label={label}>
      {pieces.map((piece, k) => (
        <Piece key={k} items={piece} {...how} />
      ))}
    </ul>
  )
}

class Piece<T> extends Component<Rows<T>> {
  override shouldComponentUpdate(next: Rows<T>): boolean {
    return next.items !== this.props.items
  }
  override render({ items, keyOf, draw }: Rows<T>) {
    return (
      <>
        {items.map(item => (
          <li key={keyOf(item)}>{draw(item)}</li>
        ))}
      </>
    )
  }
}

/** What a spanner moves, and where to: the ways back from a mount that is off. Directions as in `export/advice.ts`. */

/** The part that is moved. `…-end` of the lower axis; `upper-axis-…` ends of the upper one, seen with the dish on it. */
export type MovedPart =
  | 'mount'
  | 'mast'
  | 'polar-axis'
  | 'left-end'
  | 'right-end'
  | 'forward-end'
  | 'rear-end'
  | 'upper-axis-left-end'
  | 'upper-axis-right-end'
  | 'upper-axis-top'
  | 'upper-axis-west-end'
  | 'dish'
  | 'feed'
  | 'tube'

export type Toward =
  | 'clockwise'
  | 'anticlockwise'
  | 'north'
  | 'south'
  | 'east'
  | 'west'
  | 'up'
  | 'down'
  | 'left'
  | 'right'
  | 'forward'
  | 'back'
  /** To the UP mark on the rim, or from it: on a tilting mount that is not the vertical. */
  | 'up-mark'
  | 'from-up-mark'

export interface Move {
  part: MovedPart
  toward: Toward
}

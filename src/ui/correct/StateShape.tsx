/** The state of a parameter as a shape, always beside its word: 'settled' a full square, 'as measured' a half, 'open' a hollow one. */
import type { ParameterState } from '../../core/records/solution.ts'
import { STATE_NAMES } from './words.ts'

export function StateShape({ state }: { state: ParameterState }) {
  return (
    <span class="state">
      <svg class="state-shape" viewBox="0 0 16 16" aria-hidden="true">
        <rect x="1.5" y="1.5" width="13" height="13" />
        {state === 'settled' && <rect class="state-full" x="1.5" y="1.5" width="13" height="13" />}
        {state === 'as measured' && <rect class="state-full" x="1.5" y="8" width="13" height="6.5" />}
      </svg>
      {STATE_NAMES[state]}
    </span>
  )
}

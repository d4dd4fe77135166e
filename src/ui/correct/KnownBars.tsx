/** Known how well: a bar for each number, half as wide as its ±, between ticks where the tolerance would have it. */
import type { Landscape } from '../../core/plan/landscape.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import type { Solution } from '../../core/records/solution.ts'
import { lengthUnit, measured, measuredLength, NBSP } from '../kit/format.ts'
import { shortName } from './drawnwords.ts'
import { knownBar, TICK_PCT } from './known-geometry.ts'
import { CORRECT, feedName, STATE_NAMES } from './words.ts'

export function KnownBars(p: { station: StationRecord; solution: Solution; land: Landscape }) {
  const { station, solution, land } = p
  return (
    <ul class="known">
      {solution.parameters.flatMap(parameter => {
        const { id, feed, sigma, state } = parameter
        const enough = land.enough.find(e => e.id === id && e.feed === (feed ?? null))
        if (!enough) return []
        const bar = knownBar(sigma, enough.sigma, state)
        const named = feedName(station.feeds, feed)
        const name = shortName(id, station.mount, parameter.label)
        return (
          <li key={`${id} ${feed ?? ''}`}>
            <span>
              {name}
              {named && ` (${named})`}
            </span>
            <svg class="known-bar" aria-hidden="true">
              <line class="known-line" x1="0" x2="100%" y1="50%" y2="50%" />
              {[-1, 1].map(s => (
                <line
                  key={s}
                  class="known-tick"
                  x1={`${50 + s * TICK_PCT}%`}
                  x2={`${50 + s * TICK_PCT}%`}
                  y1="10%"
                  y2="90%"
                />
              ))}
              <rect
                class={bar.isFilled ? 'known-full' : bar.isBeyond ? 'known-beyond' : 'known-open'}
                x={`${bar.leftPct}%`}
                width={`${bar.widthPct}%`}
                y="32%"
                height="36%"
              />
            </svg>
            <strong>
              {sigmaText(parameter)}
              <span class="hidden-words">, {STATE_NAMES[state]}</span>
            </strong>
          </li>
        )
      })}
      <li class="known-key">{CORRECT.barsKey}</li>
    </ul>
  )
}

/** "± 0.3°", with the digits that it has. */
function sigmaText({ unit, sigma }: Solution['parameters'][number]): string {
  const text =
    unit === 'deg'
      ? measured(sigma, sigma, '°')
      : unit === 'ratio'
        ? measured(100 * sigma, 100 * sigma, '%')
        : measuredLength(sigma, sigma, lengthUnit())
  const shown = text.sigma ?? text.value
  return `±${NBSP}${shown}${text.unit === '°' || text.unit === '' ? text.unit : NBSP + text.unit}`
}

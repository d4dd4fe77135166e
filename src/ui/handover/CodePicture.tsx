/** A QR code, drawn: dark modules on a light ground in every theme, since cameras read no other; by night the light is red. */
import { useMemo } from 'preact/hooks'
import type { Modules } from '../../state/codes.ts'
import { SHOW } from './words.ts'

/** One path: each run of dark modules in a row is a bar. */
export function modulesPath(modules: Modules): string {
  let d = ''
  modules.forEach((row, y) => {
    for (let x = 0; x < row.length; x++) {
      if (!row[x]) continue
      const from = x
      while (row[x + 1]) x++
      d += `M${from} ${y}h${x + 1 - from}v1h${from - x - 1}z`
    }
  })
  return d
}

export function CodePicture({ modules }: { modules: Modules }) {
  const d = useMemo(() => modulesPath(modules), [modules])
  const side = modules.length
  return (
    <svg class="code" viewBox={`0 0 ${side} ${side}`} role="img" aria-label={SHOW.picture} shape-rendering="crispEdges">
      <rect class="code-light" width={side} height={side} />
      <path class="code-dark" d={d} />
    </svg>
  )
}

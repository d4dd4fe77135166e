/**
 * A caution where the act is: the gravest fact in one line, always; the rest in full the first time each day, at a tap
 * after that. From the second time on it is never long enough to push the work off the screen.
 */
import { useEffect, useState } from 'preact/hooks'
import { cautioned, wasCautioned } from '../../state/cautions.ts'
import { Notice, STATE_WORDS, StateMark } from './Notice.tsx'

interface CautionProps {
  /** What is about to be done; the same word where the same cautions hold: "dish", "sun". */
  act: string
  /** One line. */
  gravest: string
  more?: readonly string[]
}

export function Caution({ act, gravest, more = [] }: CautionProps) {
  const [isFirst] = useState(() => !wasCautioned(act))
  // On leaving: it does not fold while it is being read, and a page that is killed shows it again.
  useEffect(() => () => cautioned(act), [act])
  if (more.length === 0) return <Notice state="caution">{gravest}</Notice>
  return (
    <details class="notice notice-caution caution" open={isFirst}>
      <summary>
        <span class="notice-mark">
          <StateMark state="caution" />
        </span>
        <span>
          <span class="notice-word">{STATE_WORDS.caution}</span>
          <span class="caution-gravest">{gravest}</span>
        </span>
      </summary>
      <div class="caution-more">
        {more.map(text => (
          <p key={text}>{text}</p>
        ))}
      </div>
    </details>
  )
}

/** The first screen of an empty phone: one drawing, one sentence, and the three ways on. */
import { Action, SecondaryButton } from '../kit/buttons.tsx'
import { FIRST_WAYS } from '../kit/firstways.ts'
import { LookAround } from '../kit/LookAround.tsx'
import { go } from '../kit/navigation.ts'
import { Sentence, Text } from '../kit/numbers.tsx'
import { APP } from '../kit/phrases.ts'
import { Screen } from '../kit/Screen.tsx'
import { UpdateNotice } from '../kit/UpdateNotice.tsx'
import { UtcNow } from '../kit/UtcNow.tsx'
import { WELCOME } from './welcomewords.ts'

export function Welcome() {
  return (
    <Screen
      title={APP}
      utc={<UtcNow />}
      present="now"
      onGo={id => go(id)}
      action={<Action onPress={() => go('book', 'new')}>{FIRST_WAYS.setUp}</Action>}
    >
      <UpdateNotice />
      <WhatItIs />
      <Sentence strong>{WELCOME.what}</Sentence>
      <LookAround>
        <SecondaryButton onPress={() => go('book', 'import')}>{FIRST_WAYS.import}</SecondaryButton>
        <SecondaryButton onPress={() => go('book', 'rehearse')}>{FIRST_WAYS.rehearse}</SecondaryButton>
        <SecondaryButton onPress={() => go('reach')}>{WELCOME.reach}</SecondaryButton>
      </LookAround>
      <Text quiet>{WELCOME.stays}</Text>
    </Screen>
  )
}

/** A dish on its two axes, the Moon, and the angle by which the beam misses it. */
export function WhatItIs() {
  return (
    <figure class="plot">
      <svg viewBox="0 0 358 236" role="img" aria-label={WELCOME.drawing}>
        <path class="plot-fine" d="M20 228H338M106 228V196M118 228V196" />
        <path class="plot-lower" d="M112 228V166" />
        <path class="plot-upper" d="M76 206L148 166" />
        <path
          class="plot-thin"
          d="M178 215L161 208L146 200L134 190L123 178L115 164L110 149L106 133L105 115M169 212L161 151L105 124M123 178L161 151"
        />
        <circle class="plot-pin" cx="161" cy="151" r="6" />
        <path class="plot-heavy" d="M166 147L305 46" />
        <path class="plot-full" d="M316 38L309 52L299 39Z" />
        <path class="plot-fine" d="M163 130L244 34" />
        <circle class="plot-heavy" cx="255" cy="21" r="17" />
        <path class="plot-thin" d="M245 90L240 84L236 79L231 73L226 68L220 63" />
        <text class="plot-text plot-strong" x="228" y="24" text-anchor="end">
          {WELCOME.moon}
        </text>
        <text class="plot-text" x="300" y="86" text-anchor="start">
          {WELCOME.beam}
        </text>
        <text class="plot-text plot-strong" x="194" y="80" text-anchor="end">
          {WELCOME.off}
        </text>
        <text class="plot-text" x="8" y="222" text-anchor="start">
          {WELCOME.axes}
        </text>
      </svg>
    </figure>
  )
}

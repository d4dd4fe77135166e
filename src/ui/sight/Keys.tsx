/** Steps and keys for the chosen reading: large, in four columns; the field keeps the focus while they are tapped. */

import type { PadKey } from './keypad.ts'
import { KEYPAD } from './words.ts'

export interface KeysProps {
  /** What the chosen axis is called, and the other one. */
  axis: string
  other: string
  /** Our own keys; else the phone's are up, and ours are away. */
  own: boolean
  steps: readonly { by: number; word: string }[]
  /** Readings below zero are possible. */
  hasSign: boolean
  /** Between degrees and minutes. */
  hasSpace: boolean
  onStep: (by: number, isTap: boolean) => void
  onKey: (key: PadKey, isTap: boolean) => void
  onOther: () => void
  onKeys: (keys: 'own' | 'phone') => void
}

/** A press by a pointer counts its clicks; one by a key has none. */
const isTap = (event: MouseEvent): boolean => event.detail > 0

const ROWS = [
  ['7', '8', '9'],
  ['4', '5', '6'],
  ['1', '2', '3'],
] as const

export function Keys(p: KeysProps) {
  const key = (what: PadKey, word: string, label?: string, span = 1) => (
    <button
      key={what}
      type="button"
      class={/^\d$|^\.$/.test(what) ? 'pad-key' : 'pad-key pad-word'}
      {...(span > 1 && { style: { gridRow: `span ${span}` } })}
      {...(label && { 'aria-label': label })}
      onClick={event => p.onKey(what, isTap(event))}
    >
      {word}
    </button>
  )
  const sign = p.hasSign && key('sign', KEYPAD.sign, KEYPAD.signOf(p.axis))
  const span = 3 - Number(p.hasSign) - Number(p.hasSpace)
  return (
    // A tap on a key must not take the focus from the field.
    <fieldset class="pad-keys" aria-label={KEYPAD.keysFor(p.axis)} onMouseDown={event => event.preventDefault()}>
      {p.steps.map(({ by, word }) => (
        <button key={by} type="button" class="pad-step" onClick={event => p.onStep(by, isTap(event))}>
          {word}
        </button>
      ))}
      {p.own ? (
        <>
          {ROWS.map((row, k) => [
            ...row.map(digit => key(digit, digit)),
            k === 0 && key('erase', KEYPAD.erase, undefined, span),
            k === 3 - Number(p.hasSpace) - Number(p.hasSign) && sign,
            k === 2 && p.hasSpace && key('space', KEYPAD.space, KEYPAD.spaceLong),
          ])}
          {key('.', '.', KEYPAD.point)}
          {key('0', '0')}
          <button type="button" class="pad-key pad-word" onClick={p.onOther}>
            {KEYPAD.toOther(p.other)}
          </button>
          <button type="button" class="pad-key pad-word" onClick={() => p.onKeys('phone')}>
            {KEYPAD.phoneKeys}
          </button>
        </>
      ) : (
        <>
          {sign}
          <button type="button" class="pad-key pad-word pad-wide" onClick={() => p.onKeys('own')}>
            {KEYPAD.ownKeys}
          </button>
        </>
      )}
    </fieldset>
  )
}

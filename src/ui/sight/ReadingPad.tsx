/**
 * Both readings beside each other over their rules, with steps and keys of our own for the chosen one. The fields are
 * ordinary text fields: a keyboard types into them, and the phone's own keys are one tap away.
 */

import { signal } from '@preact/signals'
import { useEffect, useLayoutEffect, useRef, useState } from 'preact/hooks'
import { AXES } from '../../core/mount/names.ts'
import type { Axis, StationRecord } from '../../core/records/fieldbook.ts'
import type { HalfSighting } from '../../core/records/halfsightings.ts'
import { remember, remembered } from '../../state/memory.ts'
import { angleStyle } from '../kit/format.ts'
import { useDocumentId } from '../kit/ids.ts'
import { parseNumber } from '../kit/numberfield.ts'
import { AxisRule } from '../kit/numbers.tsx'
import { axisName, readingUnit } from '../kit/phrases.ts'
import { readingKind, readingLabel, readingText } from '../kit/readings.ts'
import type { SightForm } from '../kit/sighting/form.ts'
import { stopsWords } from '../kit/sighting/ReadingField.tsx'
import { Keys } from './Keys.tsx'
import { charAt, digitFrom, lastDigit, nudged, nudgesOf, type PadKey, pressKey, type Typed } from './keypad.ts'
import { KEYPAD } from './words.ts'

const KEY = 'moonplumb.keys'
/** Our own keys, or the phone's. */
const isOwn = signal(remembered(KEY) !== 'phone')

/** The phone's number keys have no space. */
const systemKeys = () => (angleStyle() === 'decimal' ? 'decimal' : 'text')

export interface ReadingPadProps {
  form: SightForm
  set: (change: Partial<SightForm>) => void
  station: StationRecord
  /** The readings to drive to at the time. */
  expected: HalfSighting['dialled']
  /** Axes whose reading breaks a rule; which rule is said above the action. */
  wrong: readonly Axis[]
  /** The first field has the focus when the screen opens. */
  ready?: boolean
}

/** Where each character of a field ends, from its left edge, px. */
function endsOf(input: HTMLInputElement): number[] {
  const pen = document.createElement('canvas').getContext('2d')
  if (pen === null) return []
  const look = getComputedStyle(input)
  pen.font = `${look.fontWeight} ${look.fontSize} ${look.fontFamily}`
  const left = Number.parseFloat(look.paddingLeft) + Number.parseFloat(look.borderLeftWidth) - input.scrollLeft
  return [...input.value].map((_, k) => left + pen.measureText(input.value.slice(0, k + 1)).width)
}

const markOf = (input: HTMLInputElement): Typed => ({
  text: input.value,
  from: input.selectionStart ?? input.value.length,
  to: input.selectionEnd ?? input.value.length,
})

export function ReadingPad(p: ReadingPadProps) {
  const { form, set, station, expected, wrong, ready = false } = p
  const { mount } = station
  const id = useDocumentId()
  const [axis, choose] = useState<Axis>('lower')
  const inputs = { lower: useRef<HTMLInputElement>(null), upper: useRef<HTMLInputElement>(null) }
  /** To be marked once the text stands in the field. */
  const mark = useRef<{ axis: Axis; typed: Typed } | null>(null)
  const own = isOwn.value
  useLayoutEffect(() => {
    const { current } = mark
    mark.current = null
    if (current) inputs[current.axis].current?.setSelectionRange(current.typed.from, current.typed.to)
  })
  const focus = (of: Axis, typed: Typed) => {
    choose(of)
    inputs[of].current?.focus({ preventScroll: true })
    inputs[of].current?.setSelectionRange(typed.from, typed.to)
  }
  useEffect(() => {
    if (ready && own) focus('lower', lastDigit(form.lower))
  }, [])

  /** @param isTap  the field stays the one that is typed in; a key pressed by keyboard keeps its own place */
  const write = (typed: Typed, isTap: boolean) => {
    mark.current = { axis, typed }
    set({ [axis]: typed.text })
    if (isTap) inputs[axis].current?.focus({ preventScroll: true })
  }
  const press = (key: PadKey, isTap: boolean) => {
    const input = inputs[axis].current
    if (input) write(pressKey(markOf(input), key), isTap)
  }
  const other: Axis = axis === 'lower' ? 'upper' : 'lower'
  const { steps, unit } = nudgesOf(readingUnit(mount, axis), angleStyle())
  const nudge = (by: number, isTap: boolean) => {
    const text = nudged(form[axis], by, unit, angleStyle())
    if (text !== null) write(lastDigit(text), isTap)
  }
  const toKeys = (keys: 'own' | 'phone') => {
    isOwn.value = keys === 'own'
    remember(KEY, keys === 'phone' ? 'phone' : null)
    const input = inputs[axis].current
    if (!input) return
    // The phone asks which keys are wanted when the field is entered.
    input.blur()
    input.inputMode = keys === 'own' ? 'none' : systemKeys()
    focus(axis, lastDigit(form[axis]))
  }

  return (
    <div class="pad">
      <div class="pad-axes">
        {AXES.map(of => (
          <Field
            key={of}
            id={`${id}-${of}`}
            axis={of}
            form={form}
            station={station}
            expected={expected}
            isChosen={of === axis}
            isWrong={wrong.includes(of)}
            own={own}
            input={inputs[of]}
            onChoose={() => choose(of)}
            onText={text => set({ [of]: text })}
            onKey={key => press(key, false)}
          />
        ))}
      </div>
      <Keys
        axis={axisName(mount, axis)}
        other={axisName(mount, other)}
        own={own}
        steps={steps.map(by => ({ by, word: KEYPAD.step(by, unit) }))}
        hasSign={mount[axis].minReading < 0}
        hasSpace={unit === 'minutes'}
        onStep={nudge}
        onKey={press}
        onOther={() => focus(other, lastDigit(form[other]))}
        onKeys={toKeys}
      />
    </div>
  )
}

interface FieldProps extends Pick<ReadingPadProps, 'form' | 'station' | 'expected'> {
  id: string
  axis: Axis
  isChosen: boolean
  isWrong: boolean
  own: boolean
  input: { current: HTMLInputElement | null }
  onChoose: () => void
  onText: (text: string) => void
  onKey: (key: PadKey) => void
}

function Field({
  id,
  axis,
  form,
  station,
  expected,
  isChosen,
  isWrong,
  own,
  input,
  onChoose,
  onText,
  onKey,
}: FieldProps) {
  const { mount } = station
  const text = form[axis]
  const parsed = parseNumber(text, readingKind(mount, axis))
  const isBad = isWrong || parsed.kind === 'not-a-number' || parsed.kind === 'out-of-range'
  const below = isBad && 'why' in parsed ? parsed.why : null
  const size = text.length <= 4 ? 'short' : text.length <= 6 ? 'middle' : 'long'
  const was = expected?.[axis]
  return (
    <div class={`pad-axis${isChosen ? ' pad-chosen' : ''}${isBad ? ' pad-wrong' : ''}`}>
      <label class="label" for={id}>
        {readingLabel(mount, axis)}
      </label>
      <input
        ref={input}
        id={id}
        class={`pad-${size}`}
        type="text"
        inputMode={own ? 'none' : systemKeys()}
        autocomplete="off"
        autocorrect="off"
        autocapitalize="off"
        spellcheck={false}
        value={text}
        aria-invalid={isBad || undefined}
        aria-describedby={`${id}-below`}
        onFocus={onChoose}
        onInput={event => onText(event.currentTarget.value)}
        onClick={event => {
          const field = event.currentTarget
          if (!own || field.selectionStart !== field.selectionEnd) return
          const at = charAt(endsOf(field), event.offsetX)
          const { from, to } = digitFrom(text, at)
          field.setSelectionRange(from, to)
        }}
        onKeyDown={event => {
          const field = event.currentTarget
          const isOne = (field.selectionEnd ?? 0) - (field.selectionStart ?? 0) === 1
          if (!isOne || !/^[\d.]$/.test(event.key) || event.ctrlKey || event.metaKey || event.altKey) return
          event.preventDefault()
          onKey(event.key as PadKey)
        }}
      />
      <AxisRule axis={axis} />
      <p class="pad-below" id={`${id}-below`}>
        {below ??
          (was !== undefined
            ? KEYPAD.targetWas(readingText(mount, axis, was))
            : (stopsWords(station, axis) ?? '\u00a0'))}
      </p>
    </div>
  )
}

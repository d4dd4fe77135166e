/**
 * What goes wrong when a page is typed into a program: each slip as the program would then have it. A sign turned, a number left out, a
 * digit or a decimal point wrong, the correction taken the other way, the axes exchanged, a part or the whole not carried, another page.
 */
import type { Answered } from '../fit/solution.ts'
import { AXES, type Axis } from '../mount/names.ts'
import type { Aiming, AxisForm, AxisPage, Coefficient, Numbers } from './numbers.ts'
import { numbersOf } from './numbers.ts'
import { aimedBy, type CarryPage, madeBy } from './page.ts'
import { aimingsOf } from './told.ts'

export type MistakeKind =
  | 'sign'
  | 'missing'
  | 'decimal'
  | 'digit'
  /** Some other value of one number. */
  | 'value'
  /** Added where it must be subtracted. */
  | 'convention'
  /** The numbers of the other convention. */
  | 'other-way'
  | 'axes'
  /** Nothing of the page arrived. */
  | 'nothing'
  /** The part about the mount did not; or that about one axis or both. */
  | 'no-aiming'
  | 'no-law'
  /** The axis numbers of a page for another aiming. */
  | 'other-page'
  /** A table entered one row off. */
  | 'row'

/** What a program has: its page with some numbers. */
export interface Carried {
  aiming: Aiming
  axes: Record<Axis, AxisPage>
  numbers: Numbers
}

export interface Mistake {
  cause: MistakeKind
  /** Of one number. */
  id: string | null
  axis: Axis | null
  /** What seems to stand there in its place. */
  text: string | null
  carried: Carried
  /** Its numbers are worked out again, not those printed, and may differ a little. */
  loose: boolean
}

export const carriedOf = (page: CarryPage): Carried => ({
  aiming: page.wish.aiming,
  axes: page.axes,
  numbers: numbersOf(page.numbers),
})

/** Texts that one wrong stroke makes of a number: a digit, two exchanged, one left out or doubled. */
export function digitSlips(text: string): string[] {
  const [mantissa = '', exponent] = text.split('e')
  const tail = exponent === undefined ? '' : `e${exponent}`
  const out = new Set<string>()
  const put = (m: string) => {
    const slip = m + tail
    if (Number.isFinite(Number(slip)) && Number(slip) !== Number(text) && /\d/.test(m)) out.add(slip)
  }
  for (let i = 0; i < mantissa.length; i++) {
    if (!/\d/.test(mantissa[i]!)) continue
    for (let d = 0; d < 10; d++) put(mantissa.slice(0, i) + String(d) + mantissa.slice(i + 1))
    if (/\d/.test(mantissa[i + 1] ?? ''))
      put(mantissa.slice(0, i) + mantissa[i + 1] + mantissa[i] + mantissa.slice(i + 2))
    put(mantissa.slice(0, i) + mantissa.slice(i + 1))
    put(mantissa.slice(0, i + 1) + mantissa[i] + mantissa.slice(i + 1))
  }
  return [...out]
}

const short = (x: number): string => String(Number(x.toPrecision(7)))

/** Slips of one number. */
function ofOne(c: Coefficient): { cause: MistakeKind; value: number; text: string }[] {
  if (c.unit === 'sense') return [{ cause: 'sign', value: -c.value, text: String(-c.value) }]
  const list: { cause: MistakeKind; value: number; text: string }[] = []
  if (c.value !== 0)
    list.push({ cause: 'sign', value: -c.value, text: c.text.startsWith('-') ? c.text.slice(1) : `-${c.text}` })
  if (c.unset !== null && c.unset !== c.value) list.push({ cause: 'missing', value: c.unset, text: short(c.unset) })
  if (c.value !== 0)
    for (const by of [10, 0.1, 100, 0.01])
      list.push({ cause: 'decimal', value: c.value * by, text: short(c.value * by) })
  for (const text of digitSlips(c.text)) list.push({ cause: 'digit', value: Number(text), text })
  const seen = new Set<number>()
  return list.filter(s => s.value !== c.value && !seen.has(s.value) && seen.add(s.value))
}

const isCurve = (form: AxisForm): boolean => form.form === 'poly'
/** Where adding and subtracting can be confused: everything beyond the angle itself changes its sign. */
const canTurn = ({ form, unit }: AxisPage): boolean => form.form === 'offset' || (isCurve(form) && unit === 'degrees')

function turnedAbout(page: CarryPage, axes: readonly Axis[]): Numbers {
  const numbers: Record<string, number> = { ...numbersOf(page.numbers) }
  for (const axis of axes)
    for (const c of page.numbers)
      if (c.axis === axis) numbers[c.id] = isCurve(page.axes[axis].form) && c.id.endsWith('.1') ? 2 - c.value : -c.value
  return numbers
}

const plain: AxisForm = { form: 'offset' }

/** Every slip that is looked for on a page. */
export function mistakesOf(answered: Answered, page: CarryPage): Mistake[] {
  const own = carriedOf(page)
  const whole = (cause: MistakeKind, carried: Partial<Carried>, axis: Axis | null = null, loose = false): Mistake => ({
    cause,
    id: null,
    axis,
    text: null,
    carried: { ...own, ...carried },
    loose,
  })
  const mistakes: Mistake[] = page.numbers.flatMap(c =>
    ofOne(c).map(({ cause, value, text }) => ({
      cause,
      id: c.id,
      axis: c.axis,
      text,
      carried: { ...own, numbers: { ...own.numbers, [c.id]: value } },
      loose: false,
    })),
  )
  const turning = AXES.filter(axis => canTurn(page.axes[axis]))
  if (turning.length > 0) mistakes.push(whole('convention', { numbers: turnedAbout(page, turning) }))
  // With a single offset that is the same as its sign turned.
  if (turning.length > 1)
    for (const axis of turning.filter(a => isCurve(page.axes[a].form)))
      mistakes.push(whole('convention', { numbers: turnedAbout(page, [axis]) }, axis))

  const curves = AXES.filter(axis => isCurve(page.axes[axis].form))
  if (curves.length > 0)
    mistakes.push(
      whole('other-way', { numbers: { ...own.numbers, ...numbersOf(page.otherWay.filter(c => c.axis !== null)) } }),
    )

  const { lower, upper } = page.axes
  if (lower.form.form === upper.form.form && lower.form.form !== 'table') {
    const crossed: Record<string, number> = { ...own.numbers }
    for (const c of page.numbers) {
      if (c.axis === null) continue
      const other = c.id.replace(/^\w+/, c.axis === 'lower' ? 'upper' : 'lower')
      if (own.numbers[other] !== undefined) crossed[c.id] = own.numbers[other]
    }
    mistakes.push(whole('axes', { numbers: crossed }))
  } else if (lower.form.form === 'table' && upper.form.form === 'table')
    mistakes.push(
      whole('axes', { axes: { lower: { ...lower, form: upper.form }, upper: { ...upper, form: lower.form } } }),
    )

  const without = (axes: readonly Axis[]): Partial<Carried> => ({
    axes: {
      lower: axes.includes('lower') ? { ...lower, form: plain } : lower,
      upper: axes.includes('upper') ? { ...upper, form: plain } : upper,
    },
    numbers: { ...own.numbers, ...Object.fromEntries(axes.map(axis => [`${axis}.0`, 0])) },
  })
  for (const axes of [['lower'], ['upper'], AXES] as const)
    mistakes.push(whole('no-law', without(axes), axes.length === 1 ? axes[0] : null))
  if (page.wish.aiming !== 'paper') {
    mistakes.push(whole('no-aiming', { aiming: 'paper' }))
    mistakes.push(whole('nothing', { ...without(AXES), aiming: 'paper' }))
  }
  for (const axis of AXES) {
    const { form } = page.axes[axis]
    if (form.form !== 'table') continue
    for (const by of [1, -1]) {
      const rows = form.rows.map(([angle], k): [number, number] => [
        angle,
        form.rows[Math.max(0, Math.min(form.rows.length - 1, k + by))]![1],
      ])
      mistakes.push(
        whole('row', { axes: { ...page.axes, [axis]: { ...page.axes[axis], form: { ...form, rows } } } }, axis),
      )
    }
  }
  for (const aiming of aimingsOf(answered.solved.station)) {
    if (aiming === page.wish.aiming) continue
    const made = madeBy(answered, aimedBy(answered, aiming), { ...page.wish, aiming })
    const laws = numbersOf(made.numbers.filter(c => c.axis !== null))
    mistakes.push(whole('other-page', { axes: made.axes, numbers: { ...own.numbers, ...laws } }, null, true))
  }
  return mistakes
}

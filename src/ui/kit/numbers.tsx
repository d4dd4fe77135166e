/**
 * Numbers and what is said about them. The lower axis has a solid rule under its number, the upper axis a dashed one,
 * everywhere; a screen reader hears the axis's word.
 */
import type { ComponentChildren } from 'preact'
import { seenText } from './format.ts'

type AxisOfLine = 'lower' | 'upper'

/** The rule of an axis: solid for the lower, dashed for the upper. */
export function AxisRule({ axis }: { axis: AxisOfLine }) {
  return (
    <svg class={`axis-rule axis-rule-${axis}`} aria-hidden="true">
      <line x1="0" x2="100%" y1="50%" y2="50%" />
    </svg>
  )
}

interface BigNumberProps {
  /** Already formatted, with no digit that σ does not support. */
  value: string
  unit?: string
  /** Formatted σ; the ± is put before it. */
  sigma?: string | null
  label?: string
  /** 1: the one number of the screen (84 px); 2: one of a pair (56); 3: a live reading (48); row: 30. */
  size?: 1 | 2 | 3 | 'row'
  axis?: AxisOfLine
  /** Stands beside the number where there is room: "allowed 0.5". */
  beside?: ComponentChildren
  /** Stands under the number: "reads 33.9, go up 0.7". */
  children?: ComponentChildren
}

export function BigNumber({ value, unit, sigma, label, size = 1, axis, beside, children }: BigNumberProps) {
  return (
    <div class={`big big-${size}`}>
      {label && <span class="label">{label}</span>}
      <div class="big-line">
        <span class="big-value">
          {value}
          {/* A degree sign belongs to its number; other units stand a gap away, smaller. */}
          {unit === '°' && '°'}
        </span>
        {unit && unit !== '°' && <span class="big-unit">{unit}</span>}
        {sigma && (
          <span class="big-sure">
            ±&nbsp;{sigma}
            {unit === '°' && '°'}
          </span>
        )}
        {beside && <span class="big-beside">{beside}</span>}
      </div>
      {children && <div class="big-below">{children}</div>}
      {axis && <AxisRule axis={axis} />}
    </div>
  )
}

interface AxisReading extends Omit<BigNumberProps, 'axis' | 'size'> {
  /** The axis's own word: "tilt", "swing", "azimuth". */
  label: string
}

interface AxisPairProps {
  lower: AxisReading
  upper: AxisReading
  size?: 1 | 2 | 3 | 'row'
  /** Beside each other where they fit (default), or always one above the other. */
  stacked?: boolean
}

/** Both readings, lower axis first. */
export function AxisPair({ lower, upper, size = 2, stacked = false }: AxisPairProps) {
  return (
    <div class={stacked ? 'axis-pair' : 'axis-pair axis-pair-beside'}>
      <BigNumber {...lower} size={size} axis="lower" />
      <BigNumber {...upper} size={size} axis="upper" />
    </div>
  )
}

/** One plain sentence, 22 px. `strong` for the sentence of the screen. */
export function Sentence({ children, strong = false }: { children: ComponentChildren; strong?: boolean }) {
  return <p class={strong ? 'sentence sentence-strong' : 'sentence'}>{children}</p>
}

/** Text, 17 px; `quiet` in the second ink. */
export function Text({ children, quiet = false }: { children: ComponentChildren; quiet?: boolean }) {
  return <p class={quiet ? 'text-2' : 'text'}>{children}</p>
}

/** A name that a person gave: always text, in its own direction, with what cannot be seen made visible. */
export function Name({ children }: { children: string }) {
  return <bdi>{seenText(children)}</bdi>
}

export function Rows({ children }: { children: ComponentChildren }) {
  return <dl class="rows">{children}</dl>
}

interface RowProps {
  label: ComponentChildren
  children: ComponentChildren
  /** A line below, across the whole row. */
  note?: ComponentChildren
}

/** Label and value with a rule beneath; inside `<Rows>`. */
export function Row({ label, children, note }: RowProps) {
  return (
    <div class="row">
      <dt>{label}</dt>
      <dd>{children}</dd>
      {note && <dd class="row-note">{note}</dd>}
    </div>
  )
}

interface RowButtonProps {
  label: ComponentChildren
  value?: ComponentChildren
  onPress: () => void
}

/** A row that opens something. Not inside `<Rows>`. */
export function RowButton({ label, value, onPress }: RowButtonProps) {
  return (
    <button type="button" class="row-button" onClick={onPress}>
      <span>{label}</span>
      {value !== undefined && <strong>{value}</strong>}
    </button>
  )
}

export interface TableRow {
  label: string
  value: string
  note?: string
}

export function Table({ rows }: { rows: readonly TableRow[] }) {
  return (
    <Rows>
      {rows.map(row => (
        <Row key={row.label} label={row.label} {...(row.note !== undefined && { note: row.note })}>
          {row.value}
        </Row>
      ))}
    </Rows>
  )
}

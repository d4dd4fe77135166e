/** What the person chose for the screens. A remembered value that is no longer a choice falls back to the first one. */
import { type Signal, signal } from '@preact/signals'
import { remember, remembered } from './memory.ts'

export const CHOICES = {
  /** 'auto' follows the system between daylight and dusk; night is always chosen by hand. */
  theme: ['auto', 'daylight', 'dusk', 'night'],
  units: ['mm', 'inch'],
  angles: ['decimal', 'minutes'],
  sound: ['on', 'off'],
} as const

type Theme = (typeof CHOICES.theme)[number]
type Units = (typeof CHOICES.units)[number]
type Angles = (typeof CHOICES.angles)[number]
type Sound = (typeof CHOICES.sound)[number]

interface Setting<T extends string> {
  readonly value: T
  set(value: T): void
}

function setting<T extends string>(name: string, choices: readonly T[]): Setting<T> {
  const key = `moonplumb.${name}`
  const old = remembered(key)
  const kept: Signal<T> = signal(choices.find(choice => choice === old) ?? choices[0]!)
  return {
    /** Reading it in a component subscribes to it. */
    get value() {
      return kept.value
    },
    set(value) {
      kept.value = value
      remember(key, value)
    },
  }
}

export const theme = setting<Theme>('theme', CHOICES.theme)
export const units = setting<Units>('units', CHOICES.units)
export const angles = setting<Angles>('angles', CHOICES.angles)
export const sound = setting<Sound>('sound', CHOICES.sound)

/**
 * Codes on this screen for another phone's camera: a short text as one code that any camera reads, a field book or a longer text as a
 * running sequence. The screen is kept on while they run.
 */
import { type ReadonlySignal, signal } from '@preact/signals'
import { type Modules, modulesOfFrame, modulesOfText } from '../core/handover/code.ts'
import { type Sequence, sequenceOf } from '../core/handover/sequence.ts'
import { packed } from '../device/packing.ts'
import { createWakeLock, type WakeLock, type WakeState } from '../device/wakelock.ts'
import type { ToShow } from './toshow.ts'
import { whileSeen } from './whileseen.ts'

export type { Modules }

export type Codes =
  /** Any phone's own camera reads it. */
  | { kind: 'one'; modules: Modules }
  | { kind: 'sequence'; sequence: Sequence; bytes: number }
  | { kind: 'too-long'; bytes: number }

/** What is sent to the other phone: the file's name, a line feed, the text. */
export const lettersOf = ({ name, text }: ToShow): string => `${name}\n${text}`
export function fromLetters(letters: string): ToShow {
  const end = letters.indexOf('\n')
  return { name: letters.slice(0, Math.max(0, end)), text: letters.slice(end + 1) }
}

/** Whether a text is a field book: it is imported by its receiver, and always sent as a sequence. */
export const isBookText = (text: string): boolean => text.slice(0, 200).includes('"moonplumb-fieldbook"')

export async function codesOf(what: ToShow): Promise<Codes> {
  const modules = isBookText(what.text) ? null : modulesOfText(new TextEncoder().encode(what.text))
  if (modules !== null) return { kind: 'one', modules }
  const body = await packed(lettersOf(what))
  const sequence = sequenceOf(body)
  return sequence === null
    ? { kind: 'too-long', bytes: body.length }
    : { kind: 'sequence', sequence, bytes: body.length }
}

/** Codes a second. A camera takes 15 to 30 pictures a second, and one of them must fall wholly within a code. */
const RATES = [1, 2, 3, 5, 8, 12] as const
const FIRST_RATE = 3

export interface Showing {
  modules: ReadonlySignal<Modules>
  isRunning: ReadonlySignal<boolean>
  perSecond: ReadonlySignal<number>
  /** Which code is shown, from 1. */
  number: ReadonlySignal<number>
  wake: ReadonlySignal<WakeState>
  start(): void
  stop(): void
  /** @param by  1 faster, -1 slower */
  change(by: 1 | -1): void
  canChange(by: 1 | -1): boolean
}

interface ShowingDevice {
  whileSeen: typeof whileSeen
  wakeLock: () => Pick<WakeLock, 'hold' | 'onState' | 'state'>
}

export function createShowing(
  sequence: Sequence,
  device: ShowingDevice = { whileSeen, wakeLock: createWakeLock },
): Showing {
  const number = signal(0)
  const modules = signal(modulesOfFrame(sequence.code(0)))
  const isRunning = signal(false)
  const rate = signal(FIRST_RATE)
  const perSecond = signal<number>(RATES[FIRST_RATE]!)
  const wake = signal<WakeState>('off')
  const shown = signal(1)
  let stopTicking: (() => void) | undefined
  let letGo: (() => void) | undefined
  let lock: Pick<WakeLock, 'hold' | 'onState' | 'state'> | undefined

  const next = () => {
    number.value++
    modules.value = modulesOfFrame(sequence.code(number.value))
    shown.value = number.value + 1
  }
  const tick = () => {
    stopTicking?.()
    stopTicking = device.whileSeen(1000 / perSecond.value, next)
  }
  const canChange = (by: 1 | -1) => RATES[rate.value + by] !== undefined
  return {
    modules,
    isRunning,
    perSecond,
    number: shown,
    wake,
    start() {
      if (isRunning.value) return
      isRunning.value = true
      if (lock === undefined) {
        lock = device.wakeLock()
        lock.onState(state => {
          wake.value = state
        })
      }
      letGo = lock.hold()
      wake.value = lock.state
      tick()
    },
    stop() {
      isRunning.value = false
      stopTicking?.()
      stopTicking = undefined
      letGo?.()
      letGo = undefined
    },
    change(by) {
      if (!canChange(by)) return
      rate.value += by
      perSecond.value = RATES[rate.value]!
      if (isRunning.value) tick()
    },
    canChange,
  }
}

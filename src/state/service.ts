/** Installing and updating, as the screens see it: the start of the program plugs its service in here. */
import { computed, type ReadonlySignal, signal } from '@preact/signals'

export type UpdateState = 'none' | 'ready-to-update' | 'updating' | 'reload-needed'
export type OfflineState =
  | { kind: 'unknown' }
  | { kind: 'absent' }
  | { kind: 'incomplete'; missing: readonly string[] }
  | { kind: 'complete'; parts: number }

export interface Service {
  update: ReadonlySignal<UpdateState>
  offlineState: ReadonlySignal<OfflineState>
  checkOffline(): Promise<OfflineState>
  applyUpdate(): 'measuring' | 'nothing' | 'updating'
  /** True from the start of a measurement to its end: nothing is updated then, nor offered. */
  measuring: ReadonlySignal<boolean> & { value: boolean }
}

const plugged = signal<Service | null>(null)
export function plugService(service: Service): void {
  plugged.value = service
}

export const offlineState = computed<OfflineState>(() => plugged.value?.offlineState.value ?? { kind: 'unknown' })
/** A new version waits, and nothing is being measured: the person may be asked. */
export const updateOffered = computed(() => {
  const service = plugged.value
  const state = service?.update.value ?? 'none'
  return (state === 'ready-to-update' || state === 'reload-needed') && !service?.measuring.value
})
export const applyUpdate = (): 'measuring' | 'nothing' | 'updating' => plugged.value?.applyUpdate() ?? 'nothing'
export const checkOffline = (): Promise<OfflineState> =>
  plugged.value?.checkOffline() ?? Promise.resolve({ kind: 'unknown' })

/** Whoever measures says so, from the start to the end. */
export function setMeasuring(measuring: boolean): void {
  if (plugged.value) plugged.value.measuring.value = measuring
}

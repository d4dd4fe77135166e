/** Installing and updating, as the screens see it: the start of the program plugs its service in here. */
import { computed, type ReadonlySignal, signal } from '@preact/signals'

export type UpdateState =
  | 'none'
  /** A new version is on the phone, complete, and waits for the person. */
  | 'ready-to-update'
  | 'updating'
  /** Another tab of this phone has taken the new version: this page is the old one and should be loaded again. */
  | 'reload-needed'
export type OfflineState =
  | { kind: 'unknown' }
  /** No service worker here: plain http, a private window, or the development server. */
  | { kind: 'absent' }
  /** `missing` is not on the phone, `damaged` is there but not what was built. */
  | { kind: 'incomplete'; missing: readonly string[]; damaged?: readonly string[]; list?: readonly PartState[] }
  | { kind: 'complete'; parts: number; list?: readonly PartState[] }

/** One file of the program, by its hash. */
export interface PartState {
  url: string
  state: 'whole' | 'missing' | 'damaged'
}

/** What a host sent in place of a part of the program. */
export interface RefusedPart {
  url: string
  why: string
}

export interface Service {
  update: ReadonlySignal<UpdateState>
  offlineState: ReadonlySignal<OfflineState>
  /** Checks, and fetches again what is missing or damaged. */
  mendOffline(): Promise<OfflineState>
  /** This is not the newest version on the phone: the newest did not start. */
  fellBack: ReadonlySignal<boolean>
  /** Parts that arrived different from how they were built, so that a version could not be installed. */
  refused: ReadonlySignal<readonly RefusedPart[]>
  /** Starts the newest version again, though it did not start before. */
  tryNewest(): Promise<void>
  applyUpdate(): 'measuring' | 'nothing' | 'updating'
}

/** True from the start of a measurement to its end, set by the screen that measures: no update is made or offered then. */
export const measuring = signal(false)

const plugged = signal<Service | null>(null)
export function plugService(service: Service): void {
  plugged.value = service
}

export const offlineState = computed<OfflineState>(() => plugged.value?.offlineState.value ?? { kind: 'unknown' })
/** A new version waits, and nothing is being measured: the person may be asked. */
export const updateOffered = computed(() => {
  const state = plugged.value?.update.value ?? 'none'
  return (state === 'ready-to-update' || state === 'reload-needed') && !measuring.value
})
export const applyUpdate = (): 'measuring' | 'nothing' | 'updating' => plugged.value?.applyUpdate() ?? 'nothing'
export const mendOffline = (): Promise<OfflineState> =>
  plugged.value?.mendOffline() ?? Promise.resolve({ kind: 'unknown' })

/** The newest version did not start, and this is the last one that did; nothing is being measured. */
export const fellBack = computed(() => plugged.value?.fellBack.value === true && !measuring.value)
export const refusedParts = computed<readonly RefusedPart[]>(() => plugged.value?.refused.value ?? [])
export const tryNewest = (): Promise<void> => plugged.value?.tryNewest() ?? Promise.resolve()

/**
 * Codes of another phone, read by the camera: pictures go to a worker one by one, frames are gathered until the whole is there. What was received
 * waits in `arrived` for the import, which checks it like any file.
 */
import { type ReadonlySignal, signal } from '@preact/signals'
import { type CodeTaken, gathering } from '../core/handover/gather.ts'
import { LARGEST_FILE } from '../core/records/jsontext.ts'
import { closeCamera, type NoCamera, onCameraLost, openCamera, pictureOf } from '../device/camera.ts'
import { unpacked } from '../device/packing.ts'
import { createWakeLock } from '../device/wakelock.ts'
import { createCodeReader } from '../worker/codes.ts'
import { arrived } from './arrived.ts'
import { fromLetters } from './codes.ts'
import type { ToShow } from './toshow.ts'

export type { NoCamera }

export type CameraState = 'off' | 'starting' | 'on' | 'lost' | NoCamera

/** What the last code was, if it added nothing. */
export type Remark =
  | Exclude<CodeTaken['kind'], 'part' | 'whole' | 'newer'>
  /** Whole, but it cannot be unpacked here. */
  | 'cannot-unpack'
  | 'newer'
  /** The worker that reads is lost. */
  | 'no-reader'

export interface Reading {
  camera: ReadonlySignal<CameraState>
  progress: ReadonlySignal<{ have: number; of: number } | null>
  remark: ReadonlySignal<Remark | null>
  /** The text of the last code that was none of a sequence. */
  single: ReadonlySignal<string | null>
  /** What was received whole; null before. */
  whole: ReadonlySignal<ToShow | null>
  /** Inside the tap. @param video  where it is seen */
  start(video: HTMLVideoElement): Promise<void>
  startOver(): void
  stop(): void
  /** A code's text as it was read. */
  take(text: string): Promise<void>
}

/** Pause between two pictures, so that the phone can do other work. */
const REST_MS = 20

interface ReadingDevice {
  openCamera: typeof openCamera
  pictureOf: (video: HTMLVideoElement) => ImageData | null
  reader: () => ReturnType<typeof createCodeReader>
  wakeLock: () => Pick<ReturnType<typeof createWakeLock>, 'hold'>
}

function browser(): ReadingDevice {
  let canvas: HTMLCanvasElement | undefined
  return {
    openCamera,
    pictureOf(video) {
      canvas ??= document.createElement('canvas')
      return pictureOf(video, canvas)
    },
    reader: createCodeReader,
    wakeLock: createWakeLock,
  }
}

export function createReading(device: ReadingDevice = browser()): Reading {
  const camera = signal<CameraState>('off')
  const progress = signal<{ have: number; of: number } | null>(null)
  const remark = signal<Remark | null>(null)
  const single = signal<string | null>(null)
  const whole = signal<ToShow | null>(null)
  const gathered = gathering()
  let end: ((why: CameraState) => void) | undefined
  let run = 0

  async function take(text: string): Promise<void> {
    const taken = gathered.take(text)
    switch (taken.kind) {
      case 'part':
        progress.value = { have: taken.have, of: taken.of }
        remark.value = null
        return
      case 'whole': {
        progress.value = null
        const letters = await unpacked(taken.body, LARGEST_FILE)
        if (letters === null) {
          remark.value = 'cannot-unpack'
          return
        }
        remark.value = null
        stop()
        whole.value = fromLetters(letters)
        arrived.value = whole.value
        return
      }
      case 'not-whole':
        progress.value = null
        break
      case 'foreign':
        single.value = text
        break
    }
    remark.value = taken.kind
  }

  async function start(video: HTMLVideoElement): Promise<void> {
    if (camera.value === 'starting' || camera.value === 'on') return
    camera.value = 'starting'
    const mine = ++run
    const told = await device.openCamera()
    if (mine !== run) {
      if (told.kind === 'on') closeCamera(told.stream)
      return
    }
    if (told.kind !== 'on') {
      camera.value = told.kind
      return
    }
    const reader = device.reader()
    const letGo = device.wakeLock().hold()
    const unhear = onCameraLost(told.stream, () => end?.('lost'))
    end = why => {
      end = undefined
      run++
      unhear()
      letGo()
      reader.stop()
      closeCamera(told.stream)
      video.srcObject = null
      camera.value = why
    }
    camera.value = 'on'
    video.srcObject = told.stream
    await video.play().catch(() => {}) // it plays by itself where allowed; pictures come anyway
    while (mine === run) {
      const picture = device.pictureOf(video)
      if (picture !== null) {
        try {
          const text = await reader.read(picture)
          if (mine === run && text !== null && text !== '') await take(text)
        } catch {
          remark.value = 'no-reader'
          if (mine === run) end?.('off')
        }
      }
      await new Promise(resolve => setTimeout(resolve, REST_MS))
    }
  }

  function stop(): void {
    run++
    if (end) end('off')
    else if (camera.value === 'starting') camera.value = 'off'
  }

  return {
    camera,
    progress,
    remark,
    single,
    whole,
    start,
    stop,
    take,
    startOver() {
      gathered.startOver()
      progress.value = null
      remark.value = null
    },
  }
}

import { describe, expect, it, vi } from 'vitest'
import { textFromFrame } from '../../src/core/handover/frame.ts'
import { sequenceOf } from '../../src/core/handover/sequence.ts'
import type { openCamera } from '../../src/device/camera.ts'
import { packed } from '../../src/device/packing.ts'
import { arrived } from '../../src/state/arrived.ts'
import { createReading } from '../../src/state/codereading.ts'
import { lettersOf } from '../../src/state/codes.ts'
import { chance } from '../helpers/random.ts'

const luck = chance(2)
const DIGITS = Array.from({ length: 3000 }, () => luck.whole(0, 9)).join('')
const BOOK = { name: 'a.fieldbook.txt', text: `{"format":"moonplumb-fieldbook"} αβγ ${DIGITS}` }
const sequenceFor = async (what = BOOK) => sequenceOf(await packed(lettersOf(what)))!

/** A camera whose pictures are the texts of codes, one after the other. */
function cameraOf(texts: Iterator<string | null>, told?: Awaited<ReturnType<typeof openCamera>>) {
  const track = Object.assign(new EventTarget(), { stop: vi.fn() })
  const stream = { getTracks: () => [track] } as unknown as MediaStream
  const seen = { held: 0, stopped: 0, track }
  let shown: string | null = null
  const reading = createReading({
    openCamera: async () => told ?? { kind: 'on', stream },
    pictureOf: () => {
      const next = texts.next()
      if (next.done) return null
      shown = next.value
      return { width: 1, height: 1, data: new Uint8ClampedArray(4) } as unknown as ImageData
    },
    reader: () => ({
      read: async () => {
        if (shown === 'the worker dies') throw new Error('lost')
        return shown
      },
      stop: () => {
        seen.stopped++
      },
    }),
    wakeLock: () => ({
      hold: () => {
        seen.held++
        return () => {
          seen.held--
        }
      },
    }),
  })
  const video = { srcObject: null, play: async () => {} } as unknown as HTMLVideoElement
  return { reading, seen, video }
}

describe('createReading', () => {
  it('reads until the whole is there, then lets the camera go and leaves it for the import', async () => {
    const s = await sequenceFor()
    function* texts() {
      yield null
      for (let number = 0; ; number++) if (number % 3 !== 1) yield s.code(number)
    }
    arrived.value = null
    const { reading, seen, video } = cameraOf(texts())
    await reading.start(video)
    expect(reading.whole.value).toEqual(BOOK)
    expect(arrived.value).toEqual(BOOK)
    expect([reading.camera.value, seen.held, seen.stopped, video.srcObject]).toEqual(['off', 0, 1, null])
    expect(seen.track.stop).toHaveBeenCalledOnce()
  })

  it('tells how far it is, and what a code is that brings nothing', async () => {
    const [s, other] = [await sequenceFor(), await sequenceFor({ name: 'b', text: `${BOOK.text}!` })]
    const { reading } = cameraOf([][Symbol.iterator]())
    await reading.take(s.code(0))
    expect([reading.progress.value, reading.remark.value]).toEqual([{ have: 1, of: s.count }, null])
    await reading.take('https://example.org')
    expect([reading.remark.value, reading.single.value]).toEqual(['foreign', 'https://example.org'])
    await reading.take(other.code(0))
    expect([reading.remark.value, reading.progress.value?.have]).toEqual(['other', 1])
    await reading.take(s.code(1).replace(/.$/, letter => (letter === '0' ? '1' : '0')))
    expect(reading.remark.value).toBe('damaged')
    await reading.take('MOONPLUMB9:000')
    expect(reading.remark.value).toBe('newer')
    reading.startOver()
    expect([reading.remark.value, reading.progress.value]).toEqual([null, null])
    await reading.take(other.code(0))
    expect([reading.remark.value, reading.progress.value]).toEqual([null, { have: 1, of: other.count }])
  })

  it('says when what came over whole cannot be unpacked here', async () => {
    const { reading } = cameraOf([][Symbol.iterator]())
    const s = sequenceOf(Uint8Array.of(9, 1, 2, 3))!
    await reading.take(s.code(0))
    expect([reading.remark.value, reading.whole.value]).toEqual(['cannot-unpack', null])
  })

  it('says when the parts do not make up what was sent', async () => {
    const { reading } = cameraOf([][Symbol.iterator]())
    await reading.take(textFromFrame({ id: '0011223344556677', length: 3, number: 0, payload: Uint8Array.of(1, 2, 3) }))
    expect([reading.remark.value, reading.whole.value, reading.progress.value]).toEqual(['not-whole', null, null])
  })

  it.each(['refused', 'none', 'busy', 'insecure'] as const)('says that the camera is %s', async kind => {
    const { reading, video, seen } = cameraOf([][Symbol.iterator](), { kind })
    await reading.start(video)
    expect([reading.camera.value, seen.held]).toEqual([kind, 0])
  })

  it('keeps what was read when the camera is taken away, and goes on from there', async () => {
    const s = await sequenceFor()
    let number = 0
    const texts = { next: () => ({ done: false, value: number < 2 ? s.code(number++) : null }) } as Iterator<
      string | null
    >
    const { reading, seen, video } = cameraOf(texts)
    const running = reading.start(video)
    await vi.waitFor(() => expect(reading.progress.value?.have).toBe(2))
    seen.track.dispatchEvent(new Event('ended'))
    await running
    expect([reading.camera.value, reading.progress.value?.have, seen.held]).toEqual(['lost', 2, 0])
  })

  it('says when the worker is lost, and lets the camera go', async () => {
    const { reading, seen, video } = cameraOf(['the worker dies'][Symbol.iterator]())
    await reading.start(video)
    expect([reading.remark.value, reading.camera.value, seen.held]).toEqual(['no-reader', 'off', 0])
  })

  it('lets a camera go that comes after the person has left', async () => {
    const { reading, seen, video } = cameraOf([][Symbol.iterator]())
    const starting = reading.start(video)
    reading.stop()
    await starting
    expect(seen.track.stop).toHaveBeenCalledOnce()
    expect([reading.camera.value, seen.held]).toEqual(['off', 0])
  })
})

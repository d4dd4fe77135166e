import { describe, expect, it } from 'vitest'
import { GRAVITY, upFromAngles } from '../../src/core/level/upvector.ts'
import { degFromRad, radFromDeg } from '../../src/core/units.ts'
import { type AttitudeDevice, createAttitude, SILENT_MS, WAIT_MS } from '../../src/device/attitude.ts'
import type { MotionSeen } from '../../src/device/motion.ts'
import { askForSensors, type OrientationSeen } from '../../src/device/orientation.ts'

/** A phone in a drawer: events are made by hand, time passes by hand. */
function drawer(facts: Partial<AttitudeDevice> = {}) {
  let nowMs = 1000
  let visible = true
  const listeners = {
    orientation: (_: OrientationSeen) => {},
    motion: (_: MotionSeen) => {},
    visibility: () => {},
  }
  let listening = 0
  const listen =
    <K extends keyof typeof listeners>(name: K) =>
    (listener: (typeof listeners)[K]) => {
      listeners[name] = listener
      listening++
      return () => {
        listening--
      }
    }
  const device: AttitudeDevice = {
    hasOrientation: true,
    hasMotion: true,
    mustAsk: false,
    watchOrientation: listen('orientation'),
    watchMotion: listen('motion'),
    isVisible: () => visible,
    onVisibility: listen('visibility'),
    nowMs: () => nowMs,
    ...facts,
  }
  return {
    device,
    pass: (ms: number) => {
      nowMs += ms
    },
    turn: (betaDeg: number | null, gammaDeg: number | null = 0) =>
      listeners.orientation({ betaDeg, gammaDeg, atMs: nowMs }),
    push: (x: number, y: number, z: number) => listeners.motion({ acceleration: [x, y, z], atMs: nowMs }),
    pushNothing: () => listeners.motion({ acceleration: null, atMs: nowMs }),
    show: (seen: boolean) => {
      visible = seen
      listeners.visibility()
    },
    listening: () => listening,
  }
}

function lying(betaDeg: number, gammaDeg = 0) {
  const u = upFromAngles(radFromDeg(betaDeg), radFromDeg(gammaDeg))
  return u.map(x => GRAVITY * x) as [number, number, number]
}

describe('createAttitude', () => {
  it('delivers the up vector of the last event, and holds it in silence', () => {
    const d = drawer()
    const a = createAttitude(d.device)
    a.start()
    expect(a.read()).toMatchObject({ state: 'starting', up: null })
    d.turn(30, 0)
    const { up, state, source } = a.read()
    expect([state, source]).toEqual(['delivering', 'orientation'])
    expect(degFromRad(Math.asin(up![1]))).toBeCloseTo(30, 9)
    d.pass(60_000)
    expect(a.read()).toMatchObject({ state: 'silent', up })
  })
  it('is absent when nothing at all comes, and says so after three seconds, not before', () => {
    const d = drawer()
    const a = createAttitude(d.device)
    a.start()
    d.pass(WAIT_MS)
    expect(a.read().state).toBe('starting')
    d.pass(1)
    expect(a.read().state).toBe('absent')
    expect(createAttitude(drawer({ hasOrientation: false, hasMotion: false }).device).read().state).toBe('absent')
  })
  it('tells an all-null event (a machine without sensors) from no event', () => {
    const d = drawer()
    const a = createAttitude(d.device)
    a.start()
    d.turn(null, null)
    d.pushNothing()
    expect(a.read()).toMatchObject({ state: 'null-events', up: null })
  })
  it('must be asked where that is so, and is denied when it was; events overrule both', () => {
    const d = drawer({ mustAsk: true })
    const a = createAttitude(d.device)
    a.start()
    expect(a.read().state).toBe('not-asked')
    a.permission = 'denied'
    expect(a.read().state).toBe('denied')
    a.permission = 'granted'
    expect(a.read().state).toBe('starting')
    a.permission = 'not-asked'
    d.turn(0)
    expect(a.read().state).toBe('delivering')
  })
  it('is hidden with the page, and does not take what it held for the present when it comes back', () => {
    const d = drawer()
    const a = createAttitude(d.device)
    a.start()
    d.turn(12)
    d.show(false)
    expect(a.read()).toMatchObject({ state: 'hidden', up: null })
    d.pass(600_000)
    d.show(true)
    expect(a.read()).toMatchObject({ state: 'starting', up: null })
    d.pass(WAIT_MS + 1)
    expect(a.read()).toMatchObject({ state: 'stale', up: null })
    d.turn(13)
    expect(a.read().state).toBe('delivering')
  })
  it('falls back on acceleration, with its coarser step, and finds which way it counts by agreement, not by name', () => {
    for (const way of [1, -1] as const) {
      const d = drawer()
      let told = 0
      const a = createAttitude(d.device, null, sign => {
        told = sign
      })
      const stop = a.start()
      d.turn(20, 5)
      for (let k = 0; k < 20; k++) {
        d.pass(16)
        const [x, y, z] = lying(20, 5)
        d.push(way * x, way * y, way * z)
      }
      expect(told).toBe(way)
      expect(a.facts().sign).toBe(way)
      stop()
      // Another day, and no orientation any more.
      a.start()
      d.pass(1500)
      const [x, y, z] = lying(-40, 0)
      d.push(way * x, way * y, way * z)
      const read = a.read()
      expect(read).toMatchObject({ state: 'delivering', source: 'motion' })
      expect(degFromRad(Math.asin(read.up![1]))).toBeCloseTo(-40, 6)
      expect(degFromRad(read.step)).toBeCloseTo(0.584, 3)
      d.pass(SILENT_MS + 1)
      expect(a.read().state).toBe('stale')
    }
  })
  it('does not guess the sign where there is nothing to agree with: the phone is laid on its back', () => {
    const d = drawer({ hasOrientation: false })
    const a = createAttitude(d.device)
    a.start()
    d.push(0, -GRAVITY, 0)
    expect(a.read()).toMatchObject({ state: 'sign-unknown', up: null })
    expect(a.liesFaceUp()).toBe(false)
    d.push(0.1, 0.2, -9.7)
    expect(a.liesFaceUp()).toBe(true)
    expect(a.read().state).toBe('delivering')
    expect(a.read().up![2]).toBeGreaterThan(0.99)
  })
  it('refuses both when they stay 6° apart, bears 4°, and bears more for a second of moving', () => {
    const apart = (deg: number, ms: number) => {
      const d = drawer()
      const a = createAttitude(d.device)
      a.start()
      for (let t = 0; t < ms; t += 16) {
        d.pass(16)
        d.turn(10)
        d.push(...lying(10 + deg))
      }
      return a.read()
    }
    expect(apart(6, 3000)).toMatchObject({ state: 'disagree', up: null })
    expect(apart(4, 3000).state).toBe('delivering')
    expect(apart(20, 1000).state).toBe('delivering')
  })
  it('sees the step and the rate, and stops listening when nobody looks', () => {
    const d = drawer()
    const a = createAttitude(d.device)
    const stop = a.start()
    for (let k = 0; k < 60; k++) {
      d.pass(50)
      d.turn(Math.round(10 * (20 + Math.sin(k))) / 10, Math.round(10 * Math.cos(k)) / 10)
    }
    const { step, rateHz } = a.read()
    expect(degFromRad(step)).toBeCloseTo(0.1, 9)
    expect(rateHz).toBeCloseTo(20, 6)
    expect(a.facts().orientation).toMatchObject({ events: 60, nullEvents: 0, step: 0.1 })
    expect(d.listening()).toBe(3)
    stop()
    expect(d.listening()).toBe(0)
  })
})

describe('askForSensors', () => {
  it('asks both kinds before it waits for any answer', async () => {
    const asked: string[] = []
    const kind = (name: string) => ({
      requestPermission: () => {
        asked.push(name)
        return Promise.resolve('granted')
      },
    })
    const answer = askForSensors([kind('orientation'), kind('motion')])
    expect(asked).toEqual(['orientation', 'motion'])
    expect(await answer).toBe('granted')
  })
  it('is unneeded where nobody must be asked; denied when all say no, or refuse to be asked', async () => {
    expect(await askForSensors([{}, {}])).toBe('unneeded')
    expect(await askForSensors([{ requestPermission: async () => 'denied' }])).toBe('denied')
    const refusing = { requestPermission: () => Promise.reject(new Error('NotAllowedError')) }
    expect(await askForSensors([refusing, refusing])).toBe('denied')
    expect(await askForSensors([refusing, { requestPermission: async () => 'granted' }])).toBe('granted')
  })
})

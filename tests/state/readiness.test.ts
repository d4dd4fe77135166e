/** Facts of the phone: the wake lock tried, the last clock check, installed or not. */
import 'fake-indexeddb/auto'
import { signal } from '@preact/signals'
import { describe, expect, it } from 'vitest'
import { installedFrom } from '../../src/device/installed.ts'
import { createWakeLock } from '../../src/device/wakelock.ts'
import type { AttitudeState, Live } from '../../src/state/level.ts'
import { lastClockCheck, trySensors, tryWakeLock } from '../../src/state/readiness.ts'

const device = (request: (() => Promise<never>) | undefined) => ({
  request,
  isVisible: () => true,
  onVisibility: () => {},
})

describe('tryWakeLock', () => {
  it('says that the phone keeps the screen on, and lets go again', async () => {
    let released = 0
    const sentinel = { released: false, release: async () => void released++, addEventListener: () => {} }
    const lock = createWakeLock(device(async () => sentinel as never))
    expect(await tryWakeLock(lock)).toBe('held')
    await new Promise(resolve => setTimeout(resolve, 0))
    expect(released).toBe(1)
  })
  it('says so when the phone refuses, has none, or never answers', async () => {
    expect(await tryWakeLock(createWakeLock(device(() => Promise.reject(new Error('low battery')))))).toBe('refused')
    expect(await tryWakeLock(createWakeLock(device(undefined)))).toBe('absent')
    expect(await tryWakeLock(createWakeLock(device(() => new Promise(() => {}))), 10)).toBe('refused')
  })
})

describe('trySensors', () => {
  it('waits until the sensors have said how they stand, and lets go of them', async () => {
    let watched = 0
    const live = signal<Live | null>(null, { watched: () => void watched++, unwatched: () => void watched-- })
    const answer = trySensors(live)
    expect(watched).toBe(1)
    const say = (state: AttitudeState) => {
      live.value = {
        attitude: { state, up: null, source: null, step: 0, rateHz: null },
        still: { kind: 'gathering' },
        secondsLeft: null,
        reading: null,
      }
    }
    say('starting')
    say('null-events')
    expect(await answer).toBe('null-events')
    await new Promise(resolve => setTimeout(resolve, 5))
    expect(watched).toBe(0)
  })
  it('calls them absent when they never say anything', async () => {
    expect(await trySensors(signal<Live | null>(null), 10)).toBe('absent')
  })
})

describe('lastClockCheck', () => {
  it('is the latest instant, whatever else a check holds', () => {
    const clockChecks = [{ utc: '2026-05-02T00:00:00Z' }, 'odd', null, { utc: '2026-05-01T00:00:00Z' }, { utc: 'x' }]
    expect(lastClockCheck({ clockChecks } as never)).toBe(Date.UTC(2026, 4, 2))
    expect(lastClockCheck(null)).toBeNull()
  })
})

describe('installedFrom', () => {
  it('tells a tab of an Apple phone, whose data does not follow, from a tab of a Mac', () => {
    const facts = { standalone: false, displayMode: false, touch: true }
    expect(installedFrom(facts)).toBe('ios-tab')
    expect(installedFrom({ ...facts, touch: false })).toBe('tab')
    expect(installedFrom({ ...facts, standalone: true })).toBe('installed')
    expect(installedFrom({ standalone: undefined, displayMode: false, touch: true })).toBe('tab')
    expect(installedFrom({ standalone: undefined, displayMode: true, touch: true })).toBe('installed')
  })
})

/** "Ready for the field": what is said of each fact, and that whatever fails says what to do. */
import { describe, expect, it } from 'vitest'
import type { Readiness } from '../../../src/state/readiness.ts'
import { READY, readyLines } from '../../../src/ui/book/readywords.ts'

const NOW = Date.UTC(2026, 10, 25, 12)
const GOOD: Readiness = {
  offline: { kind: 'complete', parts: 14 },
  persistence: 'persistent',
  room: { usedBytes: 1e6, quotaBytes: 1e10 },
  installed: 'installed',
  wake: 'held',
  sensors: 'silent',
  clockCheckMs: NOW - 3_600_000,
  backups: [],
}
const names = new Map([['s', 'Ridge']])
const line = (id: string, change: Partial<Readiness>) =>
  readyLines({ ...GOOD, ...change }, NOW, names).find(l => l.id === id)!

describe('readyLines', () => {
  it('are all good on a phone that has everything', () => {
    expect(readyLines(GOOD, NOW, names).map(l => l.state)).toEqual(Array(8).fill('good'))
  })

  it.each<[string, Partial<Readiness>, string, RegExp]>([
    ['offline', { offline: { kind: 'incomplete', missing: ['a.js', 'b.js'] } }, 'stop', /2.parts missing.*reload/],
    ['offline', { offline: { kind: 'incomplete', missing: [], damaged: ['a.js'] } }, 'stop', /^1.part damaged\. Stay/],
    ['offline', { refused: [{ url: 'a.js', why: 'status 500' }] }, 'look-out', /sent .a\.js. wrong \(.status 500.\)/],
    [
      'offline',
      { offline: { kind: 'unknown' }, refused: Array(3).fill({ url: 'a.js', why: 'no answer' }) },
      'stop',
      /sent .a\.js. wrong \(.no answer.\), and 2 more\. .*reload/,
    ],
    ['offline', { offline: { kind: 'absent' } }, 'stop', /ordinary window/],
    ['storage', { persistence: 'may-be-cleared' }, 'look-out', /Ask it to keep/],
    ['storage', { persistence: 'unknown' }, 'look-out', /Export a backup/],
    [
      'storage',
      { persistence: 'may-be-cleared', installed: 'ios-tab' },
      'look-out',
      /seven days without a visit.*Install/,
    ],
    ['storage', { persistence: 'unknown', installed: 'ios-tab' }, 'look-out', /seven days without a visit.*Install/],
    ['room', { room: { usedBytes: 9e6, quotaBytes: 1e7 } }, 'stop', /Make room/],
    ['installed', { installed: 'ios-tab' }, 'stop', /Install first: the data of this tab does not follow/],
    ['installed', { installed: 'tab' }, 'look-out', /Export a backup, then install it/],
    ['clock', { clockCheckMs: null }, 'look-out', /Not compared yet.*time signal/],
    ['clock', { clockCheckMs: NOW - 2 * 86_400_000 }, 'look-out', /2.d ago.*time signal/],
    ['clock', { clockCheckMs: NOW + 60_000 }, 'look-out', /set back/],
    ['sensors', { sensors: 'not-asked' }, 'look-out', /Press “Try the sensors”.*ask again each time/],
    ['sensors', { sensors: 'denied' }, 'look-out', /Allow motion sensors/],
    ['sensors', { sensors: 'null-events' }, 'look-out', /no tilt sensor/],
    ['screen', { wake: 'refused' }, 'look-out', /power saving.*iOS before 18\.4.*Set the phone/],
    ['screen', { wake: 'absent' }, 'look-out', /Set the phone/],
    [
      'backup',
      { backups: [{ station: 's', changes: 17, lastExportMs: NOW }] },
      'look-out',
      /17.records newer.*Export a backup/,
    ],
  ])('%s that fails says what to do', (id, change, state, words) => {
    const failing = line(id, change)
    expect(failing.state).toBe(state)
    expect(failing.words).toMatch(words)
  })

  // What the engines do otherwise: WebKit's blog on storage (14403) and on wake locks (bug 254545); a browser's menu where it has one.
  it('promise seven days to no browser but those that count them, and no button that only one engine has', () => {
    const tab = readyLines({ ...GOOD, persistence: 'may-be-cleared', installed: 'tab' }, NOW, names)
    expect(tab.find(l => l.id === 'storage')!.words).not.toMatch(/seven|install/i)
    expect(tab.find(l => l.id === 'installed')!.words).toMatch(/where that has/)
    expect(READY.notKept).toMatch(/say yes next time; else open Moonplumb from the home screen/)
  })

  it('need no copy of a demo station', () => {
    expect(line('backup', { backups: [{ station: 'demo', changes: 22, lastExportMs: null }] }).state).toBe('good')
  })
})

/** Words of "Ready for the field": each line says how it stands, and if it fails, what to do. Pure. */

import { DAY_MS } from '../../core/units.ts'
import type { Readiness } from '../../state/readiness.ts'
import { countOf, duration, fixed, NBSP, safeText, utcDate } from '../kit/format.ts'
import { attitudeWords } from '../kit/sensorwords.ts'

export const READY = {
  title: 'Ready for the field',
  good: 'Ready: works without a network, and the book is safe.',
  bad: (n: number) => `${countOf(n, 'line')} to look at before you go.`,
  again: 'Look again',
  keep: 'Ask the phone to keep it',
  kept: 'The phone has promised to keep the book.',
  // Safari and Chrome decide by themselves, in favour of an app on the home screen; Firefox asks the person.
  notKept:
    'The browser has not promised. If it asked you, say yes next time; else open Moonplumb from the home screen and ask again there. Until then export a backup after each session.',
  toLevel: 'Try the sensors',
  toClock: 'Compare the clock',
  /** What holds all day at the mount. */
  site: {
    act: 'site',
    gravest: 'Lightning: leave the mast at the first thunder, however far off.',
    more: [
      'Wind: know the wind your mount is good for, and stow the dish before it comes. How to stow depends on the mount: often straight up, jacks run in.',
      'Mains: the jack supply on a residual-current device (RCD, GFCI), out of the wet; switch it off before hands go near a jack.',
      'RF: key the transmitter only while nobody is in front of the dish, and never low over people.',
      'Height: a ladder on firm ground, held by somebody. Local rules come first; what they leave to a licensed trade, leave to it.',
    ],
  },
  versions: 'Versions',
  program: 'Moonplumb',
  file: 'Field book file',
  changes: (version: string) => `What changed in ${version}`,
  parts: 'Each part of the app',
  partStates: { whole: 'whole', missing: 'missing', damaged: 'damaged' },
  export: 'Export a backup now',
  battery:
    'Before you go: charge the phone and switch power saving off (it takes the screen lock away). Set its clock by the network and compare it. A cold battery and a hot screen both switch a phone off.',
} as const

/** In the user's words, newest first. */
export const CHANGELOG: readonly { version: string; what: readonly string[] }[] = [
  {
    version: '0.1.0',
    what: [
      'The first one: make a station with any of four kinds of mount, and sight Sun, Moon, sources, satellites and landmarks.',
      'It says how well the beam follows the Moon, what to turn and which way, what looks wrong, and what to sight next.',
      'One page for the tracking program, by what it can take; limits, dead band and steps; check points; a target table.',
      'Readings by voice or from a second phone wait as half sightings, and the two halves are joined wherever one shows.',
      'Angles with minutes and lengths in inches, shown and typed everywhere; local time beside UTC.',
      'Another phone takes a field book with no network: codes on this screen, read by its camera. A field report prints to one page.',
      'Nothing is overwritten: every version is kept and can be restored, and books are merged record by record.',
    ],
  },
]

type LineState = 'good' | 'look-out' | 'stop'
export interface ReadyLine {
  id: 'offline' | 'storage' | 'room' | 'installed' | 'backup' | 'clock' | 'screen' | 'sensors'
  state: LineState
  title: string
  /** How it stands, and what to do about it. */
  words: string
}

const MB = 1024 * 1024
const size = (bytes: number): string =>
  bytes >= 1024 * MB
    ? `${fixed(bytes / (1024 * MB), 1)}${NBSP}GB`
    : `${fixed(bytes / MB, bytes < 10 * MB ? 1 : 0)}${NBSP}MB`

/** @param names  of stations by id, without demo stations: those need no copy */
export function readyLines(facts: Readiness, nowMs: number, names: ReadonlyMap<string, string>): ReadyLine[] {
  return [
    offline(facts),
    storage(facts),
    ...room(facts),
    install(facts),
    backup(facts, names),
    clock(facts, nowMs),
    screen(facts),
    sensors(facts),
  ]
}

/** "the host sent assets/a.js wrong (status 500), and 2 more". */
function refusedWords(refused: readonly { url: string; why: string }[]): string {
  const [first] = refused
  const more = refused.length > 1 ? `, and ${fixed(refused.length - 1, 0)} more` : ''
  return `the host sent ${safeText(first!.url)} wrong (${safeText(first!.why)})${more}`
}

function offline({ offline: o, refused = [] }: Readiness): ReadyLine {
  const line = (state: LineState, words: string): ReadyLine => ({
    id: 'offline',
    state,
    title: 'Without a network',
    words,
  })
  switch (o.kind) {
    case 'complete':
      return line(
        refused.length > 0 ? 'look-out' : 'good',
        `Complete on this phone: all ${fixed(o.parts, 0)} parts, each as it was built.${
          refused.length > 0
            ? ` A new version could not be taken: ${refusedWords(refused)}. This version stays; the phone looks again by itself.`
            : ''
        }`,
      )
    case 'incomplete': {
      const damaged = o.damaged ?? []
      const how = [
        ...(o.missing.length > 0 ? [`${countOf(o.missing.length, 'part')} missing`] : []),
        ...(damaged.length > 0 ? [`${countOf(damaged.length, 'part')} damaged`] : []),
      ].join(', ')
      return line(
        'stop',
        `${how}${refused.length > 0 ? ` (${refusedWords(refused)})` : ''}. Stay online, reload the page, and look again.`,
      )
    }
    case 'absent':
      return line(
        'stop',
        'This page cannot open without a network here (a private window, or an address without https). Open it in an ordinary window.',
      )
    case 'unknown':
      if (refused.length > 0)
        return line(
          'stop',
          `This page cannot open without a network yet: ${refusedWords(refused)}. Stay online, reload the page, and look again; another network may help.`,
        )
      return line('look-out', 'Not known yet. Stay online for a moment, then look again.')
  }
}

function storage({ persistence, installed }: Readiness): ReadyLine {
  const title = 'The book on this phone'
  if (persistence === 'persistent')
    return {
      id: 'storage',
      state: 'good',
      title,
      words: 'The phone has promised to keep it. Only you can clear it: with the data of the browser, or with the app.',
    }
  return {
    id: 'storage',
    state: 'look-out',
    title,
    words:
      installed === 'ios-tab'
        ? 'This browser may clear it after seven days without a visit, or when the phone runs short of room. Install the app, and export a backup after each session.'
        : persistence === 'unknown'
          ? 'This browser does not say whether it keeps it. Export a backup after each session.'
          : 'The phone may clear it when it runs short of room. Ask it to keep the book, and export a backup after each session.',
  }
}

function room({ room: r }: Readiness): ReadyLine[] {
  if (r === null) return []
  const left = r.quotaBytes - r.usedBytes
  const good = left > 50 * MB
  return [
    {
      id: 'room',
      state: good ? 'good' : left > 5 * MB ? 'look-out' : 'stop',
      title: 'Room',
      words: `${size(r.usedBytes)} used, ${size(Math.max(0, left))} left.${good ? '' : ' Make room on the phone: delete pictures or another app.'}`,
    },
  ]
}

function install({ installed }: Readiness): ReadyLine {
  const title = 'Installed'
  if (installed === 'installed')
    return { id: 'installed', state: 'good', title, words: 'It runs as an app of its own.' }
  if (installed === 'ios-tab')
    return {
      id: 'installed',
      state: 'stop',
      title,
      words:
        'Install first: the data of this tab does not follow into the app. Press Share, then "Add to Home Screen", and open it from there. What is here already: export the field book and import it there.',
    }
  return {
    id: 'installed',
    state: 'look-out',
    title,
    words:
      'It runs in a tab of the browser. Export a backup, then install it from the browser’s menu, where that has "Install app" or "Add to Home screen". It then opens like an app, and some browsers promise to keep the book only then.',
  }
}

function backup({ backups }: Readiness, names: ReadonlyMap<string, string>): ReadyLine {
  const title = 'Backup'
  if (names.size === 0)
    return { id: 'backup', state: 'good', title, words: 'Nothing of your own in the book yet: nothing to back up.' }
  const needed = backups.filter(need => names.has(need.station))
  if (needed.length === 0) return { id: 'backup', state: 'good', title, words: 'Your last backup has everything.' }
  const words = needed.map(
    need =>
      `${safeText(names.get(need.station) ?? need.station)}: ${countOf(need.changes, 'record')} ${need.lastExportMs === null ? 'and no backup yet' : `newer than your last backup of ${utcDate(need.lastExportMs)}`}.`,
  )
  return { id: 'backup', state: 'look-out', title, words: `${words.join(' ')} Export a backup.` }
}

function clock({ clockCheckMs }: Readiness, nowMs: number): ReadyLine {
  const title = 'Clock'
  const todo = 'Compare the phone with a time signal: one minute is up to a quarter of a degree.'
  if (clockCheckMs === null) return { id: 'clock', state: 'look-out', title, words: `Not compared yet. ${todo}` }
  const age = nowMs - clockCheckMs
  if (age < 0)
    return {
      id: 'clock',
      state: 'look-out',
      title,
      words: `The last comparison is dated in the future: the clock has been set back since. ${todo}`,
    }
  return age <= DAY_MS
    ? { id: 'clock', state: 'good', title, words: `Compared ${duration(age)} ago.` }
    : { id: 'clock', state: 'look-out', title, words: `Compared ${duration(age)} ago. ${todo}` }
}

function sensors({ sensors: state }: Readiness): ReadyLine {
  const line = (of: LineState, words: string): ReadyLine => ({ id: 'sensors', state: of, title: 'Tilt sensors', words })
  if (state === null || state === 'starting') return line('look-out', 'Trying…')
  if (state === 'delivering' || state === 'silent') return line('good', 'Permitted and delivering.')
  if (state === 'not-asked')
    return line(
      'look-out',
      'The phone has not been asked yet. Press “Try the sensors” and start them: at the mount there is no time for that. Some phones ask again each time Moonplumb is opened.',
    )
  return line('look-out', attitudeWords(state)?.text ?? '')
}

function screen({ wake }: Readiness): ReadyLine {
  const title = 'Screen stays on'
  const by = 'Set the phone to keep its screen on for longer while you measure.'
  switch (wake) {
    case null:
      return { id: 'screen', state: 'look-out', title, words: 'Trying…' }
    case 'held':
    case 'off':
      return { id: 'screen', state: 'good', title, words: 'The phone keeps it on while you measure.' }
    case 'refused':
      return {
        id: 'screen',
        state: 'look-out',
        title,
        words: `The phone refused: power saving, a low battery, or an app on the home screen of iOS before 18.4. ${by}`,
      }
    case 'absent':
      return { id: 'screen', state: 'look-out', title, words: `This browser cannot keep it on. ${by}` }
  }
}

/**
 * The floors of the house: who may import whom, that nothing goes round in a ring, that a subject keeps its inside to itself,
 * that a name means one thing, and that the core has neither clock nor chance nor page.
 */
import { readdirSync, readFileSync } from 'node:fs'
import { dirname, join, relative, resolve } from 'node:path'
import { describe, expect, it } from 'vitest'

const SRC = resolve(import.meta.dirname, '../src')
const MAY: Record<string, string[]> = {
  core: ['core'],
  store: ['store', 'core'],
  device: ['device', 'core'],
  worker: ['worker', 'core'],
  state: ['state', 'core', 'store', 'device', 'worker'],
  ui: ['ui', 'state', 'core'],
  batch: ['batch', 'core'],
  offline: ['offline'],
  'sw.ts': ['offline'],
}
/** Libraries that have one door each. */
const DOORS: Record<string, RegExp> = {
  'astronomy-engine': /^core\/sky\/almanac\.ts$/,
  'ml-matrix': /^core\/wahba\.ts$/,
  valibot: /^core\/records\//,
  idb: /^store\//,
  magvar: /^core\/sky\/magnetic\.ts$/,
  'geographiclib-geodesic': /^core\/sky\/landmark\.ts$/,
  '@noble/hashes': /^core\/handover\/frame\.ts$/,
  qr: /^core\/handover\/(code|seen)\.ts$/,
}

const files = readdirSync(SRC, { recursive: true, encoding: 'utf8' })
  .filter(name => /\.(ts|tsx|mjs)$/.test(name))
  .map(name => name.replaceAll('\\', '/'))

const importsOf = (name: string): string[] => {
  const text = readFileSync(join(SRC, name), 'utf8')
  return [...text.matchAll(/(?:from|import)\s*\(?\s*'([^']+)'/g)].map(m => m[1]!)
}

/** The files of src that a file imports, types and style sheets too. */
const ownImports = (name: string): string[] =>
  importsOf(name)
    .filter(from => from.startsWith('.'))
    .map(from => relative(SRC, resolve(dirname(join(SRC, name)), from)).replaceAll('\\', '/'))
    .filter(target => !target.startsWith('..'))

/** Groups that import each other, directly or the long way round (Tarjan's strongly connected components). */
function rings(next: ReadonlyMap<string, ReadonlySet<string>>): string[] {
  const order = new Map<string, number>()
  const low = new Map<string, number>()
  const stack: string[] = []
  const found: string[] = []
  const visit = (node: string): void => {
    order.set(node, order.size)
    low.set(node, order.get(node)!)
    stack.push(node)
    for (const to of next.get(node) ?? []) {
      if (!order.has(to)) visit(to)
      if (stack.includes(to)) low.set(node, Math.min(low.get(node)!, low.get(to)!))
    }
    if (low.get(node) !== order.get(node)) return
    const ring = stack.splice(stack.indexOf(node))
    if (ring.length > 1) found.push(ring.sort().join(' '))
  }
  for (const node of next.keys()) if (!order.has(node)) visit(node)
  return found
}

/** Which group imports which other. @param groupOf  null: of no group */
function imported(groupOf: (name: string) => string | null): Map<string, Set<string>> {
  const next = new Map<string, Set<string>>()
  for (const name of files) {
    const from = groupOf(name)
    if (from === null) continue
    const list = next.get(from) ?? new Set()
    next.set(from, list)
    for (const target of ownImports(name)) {
      const to = groupOf(target)
      if (to !== null && to !== from) list.add(to)
    }
  }
  return next
}

/** The folder of a file of the core; the door and the files that all rest on are not in one. */
const coreFolder = (name: string): string | null => {
  const [floor, folder, ...rest] = name.split('/')
  return floor === 'core' && rest.length > 0 ? folder! : null
}
/** The subject of a screen's file: "sight" of "ui/sight/words.ts". */
const subjectOf = (name: string): string | null => {
  const [floor, subject, ...rest] = name.split('/')
  return floor === 'ui' && rest.length > 0 ? subject! : null
}

/** The names that a file of src declares and exports. Those that it passes on from another file are that file's. */
function declaredNames(text: string): string[] {
  const one = /^export (?:declare )?(?:async )?(?:function\*?|const|let|class|type|interface|enum) ([\w$]+)/gm
  const several = /^export const \{([^}]*)\} =/gm
  const listed = [...text.matchAll(/^export (?:type )?\{([^}]*)\}(?! from)/gm)].flatMap(m => namesIn(m[1]!))
  const isOwn = (name: string) =>
    new RegExp(
      `^(?:async )?(?:function\\*?|const|let|class|type|interface|enum) ${name.replace('$', '\\$')}\\b`,
      'm',
    ).test(text)
  return [
    ...[...text.matchAll(one)].map(m => m[1]!),
    ...[...text.matchAll(several)].flatMap(m => namesIn(m[1]!)),
    ...listed.filter(isOwn),
  ]
}
const namesIn = (list: string): string[] =>
  list
    .split(',')
    .map(name => name.trim().replace(/^type /, ''))
    .filter(name => name !== '')

/** Two files may give one name to what is one thing; every other name means one thing in all of src. */
const ONE_THING: readonly ((name: string, a: string, b: string, textOf: (file: string) => string) => boolean)[] = [
  // What state keeps answered is named by the question of the core's door that it asks.
  (name, a, b, textOf) => a === 'core/questions.ts' && b.startsWith('state/') && textOf(b).includes(`'${name}'`),
  // The start of the program plugs its service into state, and the screens take it from there under the same names.
  (_, a, b) => a === 'service.ts' && b === 'state/service.ts',
]

/** Names that two files export for two things, each with its files. */
function namedTwice(all: readonly string[], textOf: (file: string) => string): string[] {
  const where = new Map<string, string[]>()
  for (const file of all)
    for (const name of new Set(declaredNames(textOf(file)))) where.set(name, [...(where.get(name) ?? []), file])
  return [...where]
    .filter(([name, [a, ...others]]) => {
      const isOne = (b: string) => ONE_THING.some(rule => rule(name, a!, b, textOf) || rule(name, b, a!, textOf))
      return others.length > 1 || others.some(b => !isOne(b))
    })
    .map(([name, at]) => `${name}: ${at.join(', ')}`)
}

describe('floors', () => {
  it('go downhill only', () => {
    const wrong: string[] = []
    for (const name of files) {
      const floor = name.split('/')[0]!
      if (!MAY[floor]) continue
      for (const target of ownImports(name))
        if (!MAY[floor].includes(target.split('/')[0]!)) wrong.push(`${name} imports ${target}`)
    }
    expect(wrong).toEqual([])
  })

  it('read the instants of records by instantMs, which knows the leap second, not by Date.parse', () => {
    const isByHand = (name: string) => /\bDate\.parse\(/.test(readFileSync(join(SRC, name), 'utf8'))
    expect(files.filter(name => !name.startsWith('core/') && isByHand(name))).toEqual([])
  })

  it('have no ring of files, types counted too', () => {
    expect(rings(imported(name => name))).toEqual([])
  })

  it('have no ring of folders in the core', () => {
    expect(rings(imported(coreFolder))).toEqual([])
  })

  it('let a subject of the screens import the kit and itself, and the kit itself alone', () => {
    const wrong: string[] = []
    for (const name of files) {
      const subject = subjectOf(name)
      // The places load the subjects; what is not in a folder is the app around all of them.
      if (subject === null || subject === 'places') continue
      for (const target of ownImports(name))
        if (
          target.startsWith('ui/') &&
          subjectOf(target) !== subject &&
          (subject === 'kit' || subjectOf(target) !== 'kit')
        )
          wrong.push(`${name} imports ${target}`)
    }
    expect(wrong).toEqual([])
  })

  it('find a ring where there is one', () => {
    const ring = new Map([
      ['a', new Set(['b'])],
      ['b', new Set(['c', 'd'])],
      ['c', new Set(['a'])],
      ['d', new Set<string>()],
    ])
    expect(rings(ring)).toEqual(['a b c'])
  })

  it('give no name to two things', () => {
    expect(namedTwice(files, name => readFileSync(join(SRC, name), 'utf8'))).toEqual([])
  })

  it('see a name that two files give to two things, and no other', () => {
    const planted: Record<string, string> = {
      'core/questions.ts': 'export const bolts = 1\nexport const dial = 1\n',
      'state/bolts.ts': "export const bolts = answered('bolts')\n",
      'state/dial.ts': 'export const dial = 2\n',
      'core/plan/way.ts': 'export interface Way {\n}\nexport function wayTo() {}\n',
      'core/carry/way.ts': "type Way = 'command'\nexport { type Way, wayTo }\n",
      'ui/sight/way.ts': "export { wayTo } from '../../core/plan/way.ts'\nconst Way = 3\n",
      'state/now.ts': 'export const {\n  now,\n  tick,\n} = model\n',
      'device/clock.ts': 'export async function tick() {}\n',
    }
    expect(namedTwice(Object.keys(planted), file => planted[file]!)).toEqual([
      'dial: core/questions.ts, state/dial.ts',
      'Way: core/plan/way.ts, core/carry/way.ts',
      'tick: state/now.ts, device/clock.ts',
    ])
  })

  it('keep each library behind its door', () => {
    const wrong: string[] = []
    for (const name of files)
      for (const from of importsOf(name))
        for (const [library, door] of Object.entries(DOORS))
          if ((from === library || from.startsWith(`${library}/`)) && !door.test(name)) wrong.push(`${name}: ${from}`)
    expect(wrong).toEqual([])
  })

  it('take ids of the document from one place: two roots would count the same', () => {
    const users = files.filter(name => /\buseId\b/.test(readFileSync(join(SRC, name), 'utf8')))
    expect(users).toEqual(['ui/kit/ids.ts'])
  })

  it('take the time from one place: the phone’s, the station’s, the true one', () => {
    const users = files.filter(
      name => /^(state|ui)\//.test(name) && /\bDate\.now\b/.test(readFileSync(join(SRC, name), 'utf8')),
    )
    // A key that no other tab has.
    expect(users).toEqual(['state/outbox.ts'])
  })

  it('keep clock, chance and page out of the core', () => {
    const banned =
      /\bDate\.now\b|\bnew Date\(\)|\bMath\.random\b|\bperformance\.|\bwindow\.|\bdocument\.|\blocalStorage\b|\bcrypto\./
    const wrong = files
      .filter(name => name.startsWith('core/'))
      .flatMap(name =>
        readFileSync(join(SRC, name), 'utf8')
          .split('\n')
          // Prose may speak of them.
          .filter(line => !/^\s*(\*|\/\/|\/\*)/.test(line) && banned.test(line))
          .map(line => `${name}: ${line.trim()}`),
      )
    expect(wrong).toEqual([])
  })

  it('see every source file', () => {
    expect(files.length).toBeGreaterThan(60)
  })
})

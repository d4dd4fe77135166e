/** The floors of the house: who may import whom, and that the core has neither clock nor chance nor page. */
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
  'ml-matrix': /^core\/matrices\.ts$/,
  valibot: /^core\/records\//,
  idb: /^store\//,
  magvar: /^core\/sky\/magnetic\.ts$/,
}

const files = readdirSync(SRC, { recursive: true, encoding: 'utf8' })
  .filter(name => /\.(ts|tsx|mjs)$/.test(name))
  .map(name => name.replaceAll('\\', '/'))

const importsOf = (name: string): string[] => {
  const text = readFileSync(join(SRC, name), 'utf8')
  return [...text.matchAll(/(?:from|import)\s*\(?\s*'([^']+)'/g)].map(m => m[1]!)
}

describe('floors', () => {
  it('go downhill only', () => {
    const wrong: string[] = []
    for (const name of files) {
      const floor = name.split('/')[0]!
      if (!MAY[floor]) continue
      for (const from of importsOf(name)) {
        if (!from.startsWith('.')) continue
        const target = relative(SRC, resolve(dirname(join(SRC, name)), from)).replaceAll('\\', '/')
        if (target.startsWith('..')) continue
        if (!MAY[floor].includes(target.split('/')[0]!)) wrong.push(`${name} imports ${target}`)
      }
    }
    expect(wrong).toEqual([])
  })

  it('keep each library behind its door', () => {
    const wrong: string[] = []
    for (const name of files)
      for (const from of importsOf(name))
        for (const [library, door] of Object.entries(DOORS))
          if ((from === library || from.startsWith(`${library}/`)) && !door.test(name)) wrong.push(`${name}: ${from}`)
    expect(wrong).toEqual([])
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

/** The engines that the studies of this folder go through, and a fresh profile for one. */
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Engine } from './engine.ts'
import { firefox } from './firefox.ts'
import { webkit } from './webkit.ts'

const ALL: Record<Engine['name'], () => Engine> = { firefox, webkit }

/** Those that `ENGINES` names, separated by commas; default both. @throws Error with what to install where one is missing */
export function engines(): Engine[] {
  const names = process.env.ENGINES?.split(',') ?? Object.keys(ALL)
  return names.map(name => {
    const engine = ALL[name as Engine['name']]
    if (engine === undefined) throw new Error(`ENGINES: ${name} is none of ${Object.keys(ALL).join(', ')}`)
    return engine()
  })
}

/** Runs `study` in each, one after the other; its figures by the engine's name. */
export async function inEach<T extends object>(study: (engine: Engine) => Promise<T>) {
  const figures: Record<string, { engine: string } & T> = {}
  for (const engine of engines()) figures[engine.name] = { engine: engine.what, ...(await study(engine)) }
  return figures
}

export function newProfile() {
  const folder = mkdtempSync(join(tmpdir(), 'moonplumb-engine-'))
  return { folder, remove: () => rmSync(folder, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 }) }
}

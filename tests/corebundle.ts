/**
 * The core as one module, for unit tests: each of its files stays an address of its own, but calls between them no longer go through
 * a module's exports, as they do in a build. A fifth less time. By `npm test` (CORE=bundled); `npm run unit` takes the files
 * as they are, with the lines of the source in what it reports.
 */
import { readdirSync } from 'node:fs'
import { dirname, join, resolve } from 'node:path'
import { rolldown } from 'rolldown'
import type { Plugin } from 'vite'

export const isBundled = process.env.CORE === 'bundled'

const CORE = resolve('src/core')
/** Below node_modules: what is there is loaded as it is. */
const BUNDLE = resolve('node_modules/.cache/core')

const inBundle = (path: string): string => join(BUNDLE, path.slice(CORE.length).replace(/\.ts$/, '.mjs'))

async function bundle(): Promise<void> {
  const files = readdirSync(CORE, { recursive: true, encoding: 'utf8' }).filter(file => file.endsWith('.ts'))
  const built = await rolldown({
    input: Object.fromEntries(files.map(file => [file.replace(/\.ts$/, ''), join(CORE, file)])),
    platform: 'node',
    external: /^node:/,
    preserveEntrySignatures: 'strict',
  })
  await built.write({
    dir: BUNDLE,
    cleanDir: true,
    entryFileNames: '[name].mjs',
    chunkFileNames: '[name].mjs',
    codeSplitting: { groups: [{ name: 'whole', test: /\/src\/core\// }] },
  })
}

/** Leads what imports a file of the core into the bundle, which is made when the tests start. */
export const coreBundle: Plugin = {
  name: 'core-bundle',
  enforce: 'pre',
  config: bundle,
  resolveId(source, importer) {
    if (importer === undefined || !source.startsWith('.') || !source.endsWith('.ts')) return null
    const path = resolve(dirname(importer.replace(/\?.*/, '')), source)
    return path.startsWith(join(CORE, '/')) ? inBundle(path) : null
  },
}

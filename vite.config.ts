import { createHash } from 'node:crypto'
import { readFileSync } from 'node:fs'
import { extname, join, resolve } from 'node:path'
import type { Plugin } from 'vite'
import { VitePWA } from 'vite-plugin-pwa'
import { defineConfig } from 'vitest/config'
import { BaseSequencer, type TestSpecification } from 'vitest/node'
import { coreBundle, isBundled } from './tests/corebundle.ts'

/** The development server puts styles and its client inline, which the page's own policy forbids. */
const looserInDevelopment: Plugin = {
  name: 'looser-in-development',
  apply: 'serve',
  transformIndexHtml: html => html.replace(/<meta\s+http-equiv="Content-Security-Policy"[^>]*>/, ''),
}

/** With what type the service worker serves a file. One that is not here stops the build. */
const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html',
  '.js': 'text/javascript',
  '.css': 'text/css',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.woff2': 'font/woff2',
  '.json': 'application/json',
  '.webmanifest': 'application/manifest+json',
}

/**
 * What the first screen needs is one file, since nine small ones compress worse; the entry stays apart, because its address names
 * the version to the service worker.
 */
function firstScreen(id: string, built: { getModuleInfo(id: string): ModuleInfo | null }): string | null {
  if (first.size === 0) {
    const take = (one: string) => {
      if (first.has(one)) return
      first.add(one)
      built.getModuleInfo(one)?.importedIds.forEach(take)
    }
    take(ENTRY)
  }
  return id !== ENTRY && first.has(id) ? 'first' : null
}
/** What only a rehearsal needs stays apart. */
const isNoRehearsal = (id: string): boolean => !/\/src\/.*rehears/.test(id)
const ENTRY = resolve('src/main.tsx')
const first = new Set<string>()
type ModuleInfo = { importedIds: readonly string[] }

let built = ''
const builtWhere: Plugin = {
  name: 'built-where',
  configResolved: ({ root, build }) => {
    built = resolve(root, build.outDir)
  },
}

/** What the service worker's list says of a file: its length, its SHA-256 and its type (`src/offline/parts.ts`). */
function part(url: string) {
  const bytes = readFileSync(join(built, url))
  const type = TYPES[extname(url)]
  if (type === undefined) throw new Error(`${url}: no type is known for it; see TYPES in vite.config.ts`)
  return { url, bytes: bytes.length, sha256: createHash('sha256').update(bytes).digest('hex'), type }
}

/** Tests that make what they need anew, and take back what they put in place of the browser's. */
const TIDY = [
  'tests/{batch,core,device,recipe,state,store,ui,worker}/**/*.test.{ts,tsx}',
  'tests/{demo,floors,papers}.test.ts',
]

/** The longest files first, so that no core waits for the last of them. */
class LongestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const isLong = (file: TestSpecification) => /montecarlo|suspects|changes|batch\.test|questions/.test(file.moduleId)
    const sorted = await super.sort(files)
    return [...sorted.filter(isLong), ...sorted.filter(file => !isLong(file))]
  }
}

export default defineConfig({
  base: './',
  build: {
    target: 'es2022',
    sourcemap: false,
    cssCodeSplit: false, // one look, there before any place
    assetsInlineLimit: 0, // the page's policy allows no font out of a data: address
    // What a later part needs is asked for when it runs: the list of it all was 1 kB of the first screen.
    modulePreload: {
      polyfill: false,
      resolveDependencies: (_, files, { hostType }) => (hostType === 'html' ? files : []),
    },
    rolldownOptions: {
      output: {
        codeSplitting: {
          groups: [
            { name: firstScreen, debugName: 'first', priority: 2 },
            // What places share was seventy files of a few kilobytes: fetching, hashing and starting them cost a third of a start.
            { name: 'shared', test: isNoRehearsal, minShareCount: 2, priority: 1 },
          ],
        },
      },
    },
  },
  worker: { format: 'es' },
  plugins: [
    looserInDevelopment,
    builtWhere,
    VitePWA({
      strategies: 'injectManifest',
      srcDir: 'src',
      filename: 'sw.ts',
      registerType: 'prompt',
      injectRegister: false, // src/service.ts does it
      manifest: false, // public/manifest.webmanifest
      injectManifest: {
        globPatterns: ['**/*.{html,js,css,svg,png,woff2,json,webmanifest}'],
        globIgnores: ['recipe.schema.json'], // for programs that read a recipe, not for the phone
        maximumFileSizeToCacheInBytes: 8 * 1024 * 1024,
        manifestTransforms: [
          async entries => ({
            manifest: entries.map(({ url, size }) => ({ ...part(url), size, revision: null })),
            warnings: [],
          }),
        ],
      },
    }),
  ],
  test: {
    environment: 'node',
    testTimeout: 60_000,
    expect: {
      requireAssertions: true, // a test that looked at nothing fails
      poll: { timeout: 10_000 }, // on a busy machine a second is not enough
    },
    env: { TZ: 'UTC' }, // local times stand beside UTC on screens: a test that is about them sets its own zone
    sequence: { sequencer: LongestFirst },
    maxWorkers: '100%', // on two cores the default is one
    projects: [
      // They share their modules: loading them anew for each file took half of the time.
      {
        extends: true,
        plugins: isBundled ? [coreBundle] : [],
        test: { name: 'tidy', include: TIDY, isolate: false },
      },
      {
        extends: true,
        test: {
          name: 'apart',
          include: ['tests/**/*.test.{ts,tsx}'],
          exclude: [...TIDY, '**/node_modules/**'],
        },
      },
    ],
  },
})

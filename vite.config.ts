import type { Plugin } from 'vite'
import { VitePWA } from 'vite-plugin-pwa'
import { defineConfig } from 'vitest/config'
import { BaseSequencer, type TestSpecification } from 'vitest/node'

/** The development server puts styles and its client inline, which the page's own policy forbids. */
const looserInDevelopment: Plugin = {
  name: 'looser-in-development',
  apply: 'serve',
  transformIndexHtml: html => html.replace(/<meta\s+http-equiv="Content-Security-Policy"[^>]*>/, ''),
}

/** Floors whose tests keep nothing between calls. */
const PURE = ['core', 'examples', 'ui']

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
    modulePreload: { polyfill: false },
  },
  worker: { format: 'es' },
  plugins: [
    looserInDevelopment,
    VitePWA({
      strategies: 'injectManifest',
      srcDir: 'src',
      filename: 'sw.ts',
      registerType: 'prompt',
      injectRegister: false, // src/service.ts does it
      includeManifestIcons: false, // the pattern below has them
      injectManifest: {
        // The manifest itself is added by the plugin.
        globPatterns: ['**/*.{html,js,css,svg,png,woff2,json,txt}'],
        maximumFileSizeToCacheInBytes: 8 * 1024 * 1024,
      },
      manifest: {
        id: './',
        name: 'Moonplumb',
        short_name: 'Moonplumb',
        description: 'Field book and computer for pointing a Moon-bounce dish; works without a network.',
        lang: 'en',
        start_url: './',
        scope: './',
        display: 'standalone',
        background_color: '#ffffff',
        theme_color: '#ffffff',
        icons: [
          { src: 'icons/icon-192.png', sizes: '192x192', type: 'image/png', purpose: 'any' },
          { src: 'icons/icon-512.png', sizes: '512x512', type: 'image/png', purpose: 'any' },
          { src: 'icons/maskable-512.png', sizes: '512x512', type: 'image/png', purpose: 'maskable' },
        ],
      },
    }),
  ],
  test: {
    environment: 'node',
    testTimeout: 60_000,
    env: { TZ: 'UTC' }, // local times stand beside UTC on screens: a test that is about them sets its own zone
    sequence: { sequencer: LongestFirst },
    maxWorkers: '100%', // on two cores the default is one
    projects: [
      // What keeps nothing between calls shares its modules: loading them anew for each file took half of the time.
      {
        extends: true,
        test: { name: 'pure', include: PURE.map(floor => `tests/${floor}/**/*.test.{ts,tsx}`), isolate: false },
      },
      {
        extends: true,
        test: {
          name: 'stateful',
          include: ['tests/**/*.test.{ts,tsx}'],
          exclude: PURE.map(floor => `tests/${floor}/**`).concat('**/node_modules/**'),
        },
      },
    ],
  },
})

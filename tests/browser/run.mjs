/**
 * The browser tests: finds a Chromium, builds if needed, serves the build to all, runs Playwright, and leaves
 * the counts in results/browser.json. Arguments are handed to Playwright (a file name, -g "…").
 */
import { spawn } from 'node:child_process'
import { mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { buildIfStale, DIST, ROOT } from './build.mjs'
import { findChromium } from './chromium.mjs'
import { serve } from './server.mjs'

const results = join(ROOT, 'results')
const reportFile = join(results, 'browser-report.json')

function counts() {
  const { stats } = JSON.parse(readFileSync(reportFile, 'utf8'))
  return { passed: stats.expected, failed: stats.unexpected + stats.flaky, skipped: stats.skipped }
}

const chromium = await findChromium()
buildIfStale()
mkdirSync(results, { recursive: true })
rmSync(reportFile, { force: true })

const server = await serve(DIST)
let code = 1
try {
  const cli = join(ROOT, 'node_modules/@playwright/test/cli.js')
  const config = join(ROOT, 'tests/browser/playwright.config.ts')
  const run = spawn(process.execPath, [cli, 'test', '-c', config, ...process.argv.slice(2)], {
    cwd: ROOT,
    stdio: 'inherit',
    env: { ...process.env, CHROMIUM: chromium, BASE_URL: server.url, PLAYWRIGHT_JSON_OUTPUT_FILE: reportFile },
  })
  code = await new Promise(resolve => run.once('exit', status => resolve(status ?? 1)))
} finally {
  await server.stop()
}

const summary = counts()
writeFileSync(join(results, 'browser.json'), `${JSON.stringify(summary, null, 2)}\n`)
process.stdout.write(`browser: ${summary.passed} passed, ${summary.failed} failed, ${summary.skipped} skipped\n`)
process.exitCode = code !== 0 || summary.failed > 0 || summary.passed === 0 ? 1 : 0

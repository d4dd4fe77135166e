/**
 * The browser tests: finds a Chromium, builds if needed, starts one preview server for all, runs Playwright, and leaves
 * the counts in results/browser.json. Arguments are handed to Playwright (a file name, -g "…").
 */
import { spawn } from 'node:child_process'
import { mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { buildIfStale, ROOT } from './build.mjs'
import { findChromium } from './chromium.mjs'
import { freePort } from './server.mjs'

const results = join(ROOT, 'results')
const reportFile = join(results, 'browser-report.json')

async function untilAnswering(url, child) {
  for (let tries = 0; tries < 100; tries++) {
    if (child.exitCode !== null) throw new Error(`the preview server ended with ${child.exitCode}`)
    const answer = await fetch(url).catch(() => null)
    if (answer?.ok) return
    await new Promise(resolve => setTimeout(resolve, 100))
  }
  throw new Error('the preview server did not start')
}

function counts() {
  const { stats } = JSON.parse(readFileSync(reportFile, 'utf8'))
  return { passed: stats.expected, failed: stats.unexpected + stats.flaky, skipped: stats.skipped }
}

const chromium = await findChromium()
buildIfStale()
mkdirSync(results, { recursive: true })
rmSync(reportFile, { force: true })

const port = await freePort()
const url = `http://localhost:${port}/`
const vite = join(ROOT, 'node_modules/vite/bin/vite.js')
const preview = spawn(process.execPath, [vite, 'preview', '--port', `${port}`, '--strictPort', '--host', 'localhost'], {
  cwd: ROOT,
  stdio: ['ignore', 'ignore', 'inherit'],
})
let code = 1
try {
  await untilAnswering(url, preview)
  const cli = join(ROOT, 'node_modules/@playwright/test/cli.js')
  const config = join(ROOT, 'tests/browser/playwright.config.ts')
  const run = spawn(process.execPath, [cli, 'test', '-c', config, ...process.argv.slice(2)], {
    cwd: ROOT,
    stdio: 'inherit',
    env: { ...process.env, CHROMIUM: chromium, BASE_URL: url, PLAYWRIGHT_JSON_OUTPUT_FILE: reportFile },
  })
  code = await new Promise(resolve => run.once('exit', status => resolve(status ?? 1)))
} finally {
  preview.kill()
}

const summary = counts()
writeFileSync(join(results, 'browser.json'), `${JSON.stringify(summary, null, 2)}\n`)
process.stdout.write(`browser: ${summary.passed} passed, ${summary.failed} failed, ${summary.skipped} skipped\n`)
process.exitCode = code !== 0 || summary.failed > 0 || summary.passed === 0 ? 1 : 0

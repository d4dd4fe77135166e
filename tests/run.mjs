/**
 * `npm test`: types and lint beside each other, unit and property tests, then the browser's. Every part runs whatever the others did.
 * The last line is `N passed, N failed`: the sum over all tests; a part that fails without a failed test counts as one.
 */
import { spawn, spawnSync } from 'node:child_process'
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'

const root = fileURLToPath(new URL('..', import.meta.url))
let passed = 0
let failed = 0

/** Runs a script of the project with this Node; true when it ends well. */
function runs(title, script, args) {
  console.log(`\n— ${title}`)
  const { status, error } = spawnSync(process.execPath, [join(root, script), ...args], { cwd: root, stdio: 'inherit' })
  if (error !== undefined) console.error(error.message)
  return status === 0
}

/** The same beside others: what it says is printed when it has ended. */
async function runsBeside(title, script, args) {
  const said = []
  const child = spawn(process.execPath, [join(root, script), ...args], { cwd: root, stdio: ['ignore', 'pipe', 'pipe'] })
  for (const stream of [child.stdout, child.stderr]) stream.on('data', part => said.push(part))
  const status = await new Promise(end => {
    child.on('error', error => {
      said.push(Buffer.from(`${error.message}\n`))
      end(null)
    })
    child.on('close', end)
  })
  console.log(`\n— ${title}`)
  process.stdout.write(Buffer.concat(said))
  return status === 0
}

const counted = file => {
  try {
    return JSON.parse(readFileSync(file, 'utf8'))
  } catch {
    return null
  }
}

const add = (part, ok, good, bad) => {
  // A part that ends badly without saying why (it crashed, a file did not load) is one failure.
  const lost = !ok && bad === 0 ? 1 : 0
  passed += good
  failed += bad + lost
  console.log(`${part}: ${ok ? 'ok' : 'FAILED'}`)
}

const tsc = 'node_modules/typescript/bin/tsc'
const checks = [
  ['types of the core', tsc, ['-p', 'src/core/tsconfig.json']],
  ['types', tsc, ['-p', 'tsconfig.json']],
  ['lint', 'node_modules/@biomejs/biome/bin/biome', ['check', '.']],
]
await Promise.all(checks.map(async ([title, ...script]) => add(title, await runsBeside(title, ...script), 0, 0)))

process.env.CORE ??= 'bundled' // tests/corebundle.ts
const folder = mkdtempSync(join(tmpdir(), 'moonplumb-tests-'))
const report = join(folder, 'unit.json')
const unitOk = runs('unit and property tests', 'node_modules/vitest/vitest.mjs', [
  'run',
  '--exclude=tests/browser/**',
  '--exclude=**/node_modules/**',
  '--reporter=default',
  '--reporter=json',
  `--outputFile.json=${report}`,
])
const unit = counted(report)
rmSync(folder, { recursive: true, force: true })
// A file that fails to load has no tests of its own to count.
const unloaded = (unit?.testResults ?? []).filter(f => f.status === 'failed' && f.assertionResults.length === 0).length
add('unit and property tests', unitOk, unit?.numPassedTests ?? 0, (unit?.numFailedTests ?? 0) + unloaded)

if (existsSync(join(root, 'tests/browser/run.mjs'))) {
  const file = join(root, 'results/browser.json')
  rmSync(file, { force: true }) // counts of an earlier run must not pass for today's
  const ok = runs('browser tests', 'tests/browser/run.mjs', [])
  const browser = counted(file)
  add('browser tests', ok && browser !== null, browser?.passed ?? 0, browser?.failed ?? 0)
  if (browser?.skipped) console.log(`browser tests skipped: ${browser.skipped}`)
}

process.exitCode = failed > 0 ? 1 : 0
console.log(`\n${passed} passed, ${failed} failed`)

/**
 * Tests that bite: each change of `mutations/` is made in a copy of the tree, and the test that it names, green before, must
 * turn red. In the folder of results, which nothing else looks into; packages are hard links, so the copy costs no room.
 */
import { spawnSync } from 'node:child_process'
import {
  cpSync,
  linkSync,
  lstatSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  readlinkSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs'
import { join } from 'node:path'
import { type Mutation, mutated, mutations } from './mutations.ts'

const COPIED = [
  'src',
  'tests',
  'public',
  'index.html',
  'package.json',
  'package-lock.json',
  'tsconfig.json',
  'vite.config.ts',
]

function link(from: string, to: string): void {
  mkdirSync(to, { recursive: true })
  for (const name of readdirSync(from)) {
    if (name.startsWith('.') && name !== '.bin') continue // caches
    const [source, copy] = [join(from, name), join(to, name)]
    const found = lstatSync(source)
    if (found.isSymbolicLink()) symlinkSync(readlinkSync(source), copy)
    else if (found.isDirectory()) link(source, copy)
    else linkSync(source, copy)
  }
}

type Ran = { passed: number; failed: number }

/** The tests of that file whose title begins so. */
function run(tree: string, { test, title }: Mutation): Ran {
  const wanted = title.replace(/[.*+?^${}()|[\]\\]/g, '\\$&')
  const report = join(tree, 'report.json')
  rmSync(report, { force: true })
  const vitest = join('node_modules', 'vitest', 'vitest.mjs')
  spawnSync(
    process.execPath,
    [vitest, 'run', test, '-t', wanted, '--reporter=json', '--outputFile=report.json', '--maxWorkers=1'],
    { cwd: tree, stdio: 'ignore', timeout: 300_000 },
  )
  const { numPassedTests, numFailedTests } = JSON.parse(readFileSync(report, 'utf8'))
  return { passed: numPassedTests, failed: numFailedTests }
}

export default async function study() {
  const tree = join('results', `mutations-${process.pid}`)
  rmSync(tree, { recursive: true, force: true })
  try {
    mkdirSync(tree, { recursive: true })
    for (const name of COPIED) cpSync(name, join(tree, name), { recursive: true })
    link('node_modules', join(tree, 'node_modules'))
    const outcomes: { name: string; test: string; green: Ran; red: Ran }[] = []
    // Some of them: ONLY=04,17 npm run faults mutations
    const only = process.env.ONLY?.split(',')
    for (const mutation of mutations().filter(m => only?.some(start => m.name.startsWith(start)) ?? true)) {
      const file = join(tree, mutation.file)
      const source = readFileSync(file, 'utf8')
      const green = run(tree, mutation)
      writeFileSync(file, mutated(source, mutation))
      const red = run(tree, mutation)
      writeFileSync(file, source)
      outcomes.push({ name: mutation.name, test: `${mutation.test}: ${mutation.title}`, green, red })
      process.stderr.write(`${mutation.name}: ${green.passed} green, ${red.failed} red\n`)
    }
    const wrong = outcomes.filter(({ green, red }) => green.passed === 0 || green.failed > 0 || red.failed === 0)
    if (wrong.length > 0) throw new Error(`no test bites: ${JSON.stringify(wrong, null, 2)}`)
    return {
      changes: outcomes.length,
      caught: outcomes.length,
      by: Object.fromEntries(outcomes.map(o => [o.name, o.test])),
    }
  } finally {
    rmSync(tree, { recursive: true, force: true })
  }
}

/** The papers tell the truth: every path they quote is there, every command of the README is one that runs. */
import { execFileSync } from 'node:child_process'
import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { basename, dirname, join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { run } from '../src/batch/main.ts'

const under = (dir: string): string[] => readdirSync(dir, { recursive: true, encoding: 'utf8' }).map(f => join(dir, f))
const FILES = [...readdirSync('.'), ...['src', 'tests', 'public'].flatMap(under)]
const PAPERS = FILES.filter(f => f.endsWith('.md'))
const NAMES = new Set(FILES.map(f => basename(f)))
const read = (file: string): string => readFileSync(file, 'utf8')

/** What stands in backticks and looks like a file or a folder of ours. */
const quoted = (text: string): string[] =>
  [...text.matchAll(/`([^`\n]+)`/g)]
    .map(m => m[1]!)
    .filter(
      q =>
        !q.startsWith('NAME.') &&
        /^[\w./-]+$/.test(q) &&
        (/\.(ts|tsx|mts|mjs|js|css|md|json|html)$/.test(q) || /^[\w-]+\/(.*\/)?$/.test(q)),
    )

/** A path counts from the root, from src, from the core, or from the paper; a bare name is that of some file or folder. */
function isThere(path: string, paper: string): boolean {
  if (/^(dist|results|assets)\/|^sw\.js$/.test(path)) return true // made by a command
  if (!path.replace(/\/$/, '').includes('/')) return NAMES.has(path.replace(/\/$/, ''))
  return ['', 'src', 'src/core', 'src/ui', dirname(paper)].some(from => existsSync(join(from, path)))
}

const README = read('README.md')
const SCRIPTS: Record<string, string> = JSON.parse(read('package.json')).scripts
const SOURCES = FILES.filter(f => /^(src|tests)\/.*\.(ts|mjs)$/.test(f) || f === 'vite.config.ts').map(read)

const bin = (program: string): string => join('node_modules', '.bin', program)

/** The files that a script would run of those whose name contains a word. */
function runsOf(script: string, word: string): string[] {
  const dir = script === 'face' ? 'tests/browser' : /tests\/run-study\.mjs (\S+)/.exec(SCRIPTS[script]!)![1]!
  return readdirSync(dir).filter(f => f.endsWith(script === 'face' ? '.spec.ts' : '.study.ts') && f.includes(word))
}

describe('papers', () => {
  it('there are some, with paths in them', () => {
    expect(PAPERS).toEqual(expect.arrayContaining(['README.md', 'DEVELOPERS.md', join('tests', 'EVIDENCE.md')]))
    expect(quoted(read('DEVELOPERS.md')).length).toBeGreaterThan(80)
  })

  for (const paper of PAPERS)
    it(`${paper} quotes no path that is gone`, () => {
      expect(quoted(read(paper)).filter(path => !isThere(path, paper))).toEqual([])
    })

  it('every picture of a paper is there', () => {
    for (const paper of PAPERS)
      for (const [, path] of read(paper).matchAll(/!\[[^\]]*\]\(([^)]+)\)/g))
        expect(existsSync(join(dirname(paper), path!)), path).toBe(true)
  })

  it('every npm command of the papers is a script, and only `npm ci`, `npm start` and `npm test` go without `run`', () => {
    let seen = 0
    for (const paper of PAPERS)
      for (const [, run, name] of read(paper).matchAll(/npm (run )?(?:-s )?([a-z]+)/g)) {
        seen++
        expect(run ? Object.keys(SCRIPTS) : ['ci', 'start', 'test'], `${paper}: npm ${name}`).toContain(name)
      }
    expect(seen).toBeGreaterThan(40)
  })

  it('every study and walk that a paper names beside its command is one that the command finds', () => {
    let seen = 0
    for (const paper of PAPERS)
      for (const [, script, more, beside] of read(paper).matchAll(
        /`npm run (studies|faults|bench|engines|face)((?: [\w.-]+)*)`(?: \(`([\w./]+)`)?/g,
      ))
        for (const name of [...more!.split(' '), beside ?? ''].filter(part => part !== '')) {
          seen++
          expect(runsOf(script!, basename(name)), `${paper}: npm run ${script} ${name}`).not.toEqual([])
        }
    expect(seen).toBeGreaterThan(25)
  })

  it('every command for the desk in the README ends well and says something', () => {
    const lines = [...README.matchAll(/^ {4}npm run -s batch -- (.+)$/gm)].map(m => m[1]!)
    expect(lines.length).toBeGreaterThanOrEqual(3)
    for (const line of lines) {
      // That the command itself starts is held by tests/batch.
      const { exit, stdout, stderr } = run(line.split(' '), () => '2026-11-25T12:00:00Z')
      expect(exit, `${line}: ${stderr}`).toBe(0)
      expect(stdout.length, line).toBeGreaterThan(10)
    }
  }, 60_000)

  it('the README opens with the job in three or four short sentences', () => {
    const sentences = README.split('\n\n')[1]!.split(/(?<=[.!?])\s+/)
    expect([3, 4]).toContain(sentences.length)
    for (const sentence of sentences) {
      expect(sentence).toMatch(/^[A-Z].*\.$/s)
      expect(sentence.split(/\s+/).length, sentence).toBeLessThanOrEqual(32)
    }
  })

  it('then come the picture, the two commands and the five figures', () => {
    expect(README.split('\n\n')[2]).toMatch(/^!\[[^\]]+\]\([^)]+\)$/)
    const commands = [...README.matchAll(/^ {4}(npm .+)$/gm)]
    expect(commands.slice(0, 2).map(m => m[1])).toEqual(['npm ci && npm start', 'npm ci && npm test'])
    const table = README.indexOf('\n| what | figure |\n| --- | --- |\n')
    expect(table).toBeGreaterThan(commands[1]!.index)
    const [, , ...rows] = README.slice(table).trim().split('\n\n')[0]!.split('\n')
    expect(rows).toHaveLength(5)
    for (const row of rows) expect(row).toMatch(/^\| .+ \| .*\d.* \|$|^\| .+ \| none of \d+ \|$/)
  })
})

/** "FACE=all node FILE a b && …" taken apart. */
const commandsOf = (script: string) =>
  script.split(' && ').map(command => {
    const words = command.split(' ')
    const isProgram = (word: string) => !/^[A-Z]+=/.test(word)
    const at = words.findIndex(isProgram)
    return { settings: words.slice(0, at), program: words[at]!, given: words.slice(at + 1) }
  })

describe('scripts', () => {
  it.each(Object.entries(SCRIPTS))('%s starts what is there, with what it takes', (name, script) => {
    for (const { settings, program, given } of commandsOf(script)) {
      for (const setting of settings)
        expect(
          SOURCES.some(text => text.includes(`process.env.${setting.split('=')[0]}`)),
          setting,
        ).toBe(true)
      const isNode = program === 'node'
      expect(existsSync(isNode ? given[0]! : bin(program)), `${program} ${given[0]}`).toBe(true)
      for (const path of given.filter(word => word.includes('/'))) expect(existsSync(path), path).toBe(true)
      if (given[0] === 'tests/run-study.mjs') expect(runsOf(name, '')).not.toEqual([])
      if (given[0] === 'tests/browser/run.mjs')
        for (const filter of given.slice(1)) expect(runsOf('face', filter), filter).not.toEqual([])
      const flags = given.filter(word => word.startsWith('--'))
      if (flags.length === 0) continue
      const help = execFileSync(bin(program), [given[0]!, '--help'], { encoding: 'utf8' })
      for (const flag of flags) expect(help, flag).toMatch(new RegExp(`${flag}\\b`))
    }
  })

  it('serve the app at the address that the README says', () => {
    const [, host, port] = /http:\/\/([a-z]+):(\d+)/.exec(README)!
    expect(SCRIPTS.start).toContain(`--port ${port} `)
    expect(SCRIPTS.start).toContain(`--host ${host}`)
  })
})

/** The papers tell the truth: every path they quote is there, every command of the README is one that runs. */
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

  it('every npm command of the papers is a script', () => {
    for (const paper of PAPERS)
      for (const [, , name] of read(paper).matchAll(/npm (run )?(?:-s )?([a-z]+)/g))
        expect(['ci', ...Object.keys(SCRIPTS)], `${paper}: npm ${name}`).toContain(name)
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

  it('the README opens with the job in at most four sentences', () => {
    const first = README.split('\n\n')[1]!
    expect(first.match(/[.!?](\s|$)/g)!.length).toBeLessThanOrEqual(4)
  })
})

/** Builds the app into dist when something that goes into it is newer than the last build. */
import { spawnSync } from 'node:child_process'
import { existsSync, readdirSync, statSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'

export const ROOT = fileURLToPath(new URL('../..', import.meta.url))
export const DIST = join(ROOT, 'dist')

const newest = path => {
  const stat = statSync(path)
  if (!stat.isDirectory()) return stat.mtimeMs
  return Math.max(stat.mtimeMs, 0, ...readdirSync(path).map(name => newest(join(path, name))))
}

export function buildIfStale() {
  const built = join(DIST, 'sw.js')
  const parts = ['src', 'public', 'index.html', 'vite.config.ts', 'package.json', 'package-lock.json']
  const latest = Math.max(
    ...parts
      .map(part => join(ROOT, part))
      .filter(existsSync)
      .map(newest),
  )
  if (existsSync(built) && statSync(built).mtimeMs > latest) return
  const vite = join(ROOT, 'node_modules/vite/bin/vite.js')
  const run = spawnSync(process.execPath, [vite, 'build', '--logLevel', 'warn'], { cwd: ROOT, stdio: 'inherit' })
  if (run.status !== 0) throw new Error('the build failed')
}

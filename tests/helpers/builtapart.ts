/** The app built, for a study: in a process of its own, since a study runs as a bundle that would look for the project around itself. */
import { spawnSync } from 'node:child_process'
import { resolve } from 'node:path'

/** @returns folder of the build @throws Error  the build failed */
export function builtApart(): string {
  const build = "import('./tests/browser/build.mjs').then(m => m.buildIfStale())"
  const { status } = spawnSync(process.execPath, ['-e', build], { stdio: ['ignore', 'ignore', 'inherit'] })
  if (status !== 0) throw new Error('the build failed')
  return resolve('dist')
}

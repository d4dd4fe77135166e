/** Finds what an engine needs, or installs it on Debian as root. */
import { spawnSync } from 'node:child_process'
import { existsSync } from 'node:fs'
import { delimiter, join } from 'node:path'

/** The first of these that is there: a path, or a command on PATH. */
export function findCommand(...names: readonly (string | undefined)[]): string | undefined {
  const folders = (process.env.PATH ?? '').split(delimiter)
  return names
    .flatMap(name =>
      name === undefined ? [] : name.includes('/') ? [name] : folders.map(folder => join(folder, name)),
    )
    .find(existsSync)
}

/**
 * What `find` finds, after Debian's packages were installed if need be.
 *
 * @param find  undefined when something is missing
 * @throws Error with the packages to install where that cannot be done here
 */
export function foundOrInstalled<T>(what: string, packages: readonly string[], find: () => T | undefined): T {
  const there = find()
  if (there !== undefined) return there
  const byHand = `${what} is not here. On Debian: apt-get install ${packages.join(' ')}`
  if (process.platform !== 'linux' || process.getuid?.() !== 0 || !existsSync('/usr/bin/apt-get'))
    throw new Error(`${byHand} (as root this command does it by itself)`)
  console.error(`${what} is not here: installing ${packages.join(', ')}`)
  const apt = (...args: string[]) =>
    spawnSync('apt-get', ['-o', 'DPkg::Lock::Timeout=300', ...args], {
      stdio: ['ignore', 2, 2],
      timeout: 900_000,
      env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' },
    })
  apt('update')
  apt('install', '-y', '--no-install-recommends', ...packages)
  const now = find()
  if (now === undefined) throw new Error(`${byHand} (that was tried, and did not bring it)`)
  return now
}

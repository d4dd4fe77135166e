/**
 * Finds a Chromium for the tests, in the order of the README, and how to start it. The one without windows of its own comes first:
 * it takes half the processor time.
 */
import { spawnSync } from 'node:child_process'
import { existsSync } from 'node:fs'
import { delimiter, join } from 'node:path'

/** Does it really start? A stub that only says "install the snap" does not. */
function works(path) {
  if (!path || !existsSync(path)) return false
  const run = spawnSync(path, ['--version'], { encoding: 'utf8', timeout: 20_000 })
  return run.status === 0 && /Chrom/.test(run.stdout) && !/snap/i.test(run.stdout + run.stderr)
}

function candidates() {
  const names = [
    'chromium-headless-shell',
    'chromium',
    'chromium-browser',
    'google-chrome',
    'google-chrome-stable',
    'chrome',
  ]
  const onPath = names.flatMap(name => (process.env.PATH ?? '').split(delimiter).map(dir => join(dir, name)))
  const mac = ['Google Chrome', 'Chromium'].map(name => `/Applications/${name}.app/Contents/MacOS/${name}`)
  return [process.env.CHROMIUM, ...onPath, ...mac]
}

const found = () => candidates().find(works)

async function playwrightOwn() {
  const { chromium } = await import('playwright')
  const path = chromium.executablePath()
  return works(path) ? path : undefined
}

/** Path of a Chromium that starts; installs one if there is none. Throws with what to do when that fails too. */
export async function findChromium() {
  const there = found() ?? (await playwrightOwn())
  if (there) return there
  const say = text => process.stderr.write(`${text}\n`)
  const run = (command, args) => spawnSync(command, args, { stdio: ['ignore', 2, 2], timeout: 900_000 }).status === 0
  say('No Chromium found: installing one for the tests.')
  if (process.platform === 'linux' && process.getuid?.() === 0 && existsSync('/usr/bin/apt-get')) {
    const lock = ['-o', 'DPkg::Lock::Timeout=300']
    run('apt-get', [...lock, 'update'])
    const install = name => run('apt-get', [...lock, 'install', '-y', '--no-install-recommends', name])
    if (!install('chromium-headless-shell')) install('chromium')
  } else run('npx', ['playwright', 'install', 'chromium'])
  const now = found() ?? (await playwrightOwn())
  if (now) return now
  throw new Error('No Chromium. Install one, or name it: CHROMIUM=/path/to/chromium')
}

export const CHROMIUM_ARGS = [
  ...(process.getuid?.() === 0 ? ['--no-sandbox'] : []),
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
]

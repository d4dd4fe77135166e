/**
 * WebKit by WebDriver: Debian's WebKitWebDriver and a window of our own (`webkithost.py`) on a screen in memory.
 */
import { type ChildProcess, spawnSync } from 'node:child_process'
import { existsSync, mkdirSync, readFileSync } from 'node:fs'
import type { Socket } from 'node:net'
import { join, resolve } from 'node:path'
import { freePort } from '../browser/server.mjs'
import { type Browser, type Engine, WINDOW } from './engine.ts'
import { findCommand, foundOrInstalled } from './packages.ts'
import { killGroup, spawnGroup, untilTrue } from './processes.ts'
import { newSession } from './webdriver.ts'

const PACKAGES = ['webkit2gtk-driver', 'gir1.2-webkit2-4.1', 'python3-gi', 'xvfb']
/** Debian's own: others on PATH do not see Debian's libraries. */
const PYTHON = '/usr/bin/python3'
const TYPES = "import gi; gi.require_version('WebKit2', '4.1'); from gi.repository import WebKit2 as w; print"

export function webkit(): Engine {
  const programs = foundOrInstalled('WebKit', PACKAGES, () => {
    const driver = findCommand(process.env.WEBKIT_DRIVER, 'WebKitWebDriver')
    const xvfb = findCommand('Xvfb')
    const host = spawnSync(PYTHON, [
      '-c',
      `${TYPES}(w.get_major_version(), w.get_minor_version(), w.get_micro_version())`,
    ])
    if (driver === undefined || xvfb === undefined || host.status !== 0) return undefined
    return { driver, xvfb, version: host.stdout.toString().trim().split(/\s+/).join('.') }
  })
  return {
    name: 'webkit',
    what: `WebKitGTK ${programs.version}`,
    canBeFull: false,
    start: profile => start(programs, profile),
  }
}

interface Programs {
  driver: string
  xvfb: string
}

/** One screen for all windows, until this process ends. */
let screen: Promise<string> | undefined
function display(xvfb: string): Promise<string> {
  screen ??= new Promise((resolve, reject) => {
    const child = spawnGroup(xvfb, ['-displayfd', '3', '-screen', '0', '800x1000x24', '-nolisten', 'tcp'], {
      stdio: ['ignore', 'ignore', 'ignore', 'pipe'],
    })
    child.unref()
    const pipe = child.stdio[3] as Socket
    pipe.once('data', number => {
      pipe.unref()
      resolve(`:${String(number).trim()}`)
    })
    child.once('exit', code => reject(new Error(`Xvfb ended with ${code}`)))
    process.once('exit', () => child.kill('SIGTERM'))
  })
  return screen
}

/** The console as the engine writes it; each line an error, unless it says what else. */
function errorsIn(file: string): string[] {
  if (!existsSync(file)) return []
  const lines = readFileSync(file, 'utf8').split('\n')
  return lines.filter(line => /^CONSOLE \S+ ERROR /.test(line))
}

async function start({ driver, xvfb }: Programs, profile: string): Promise<Browser> {
  const port = await freePort()
  const server = `http://127.0.0.1:${port}`
  const folder = (name: string) => {
    mkdirSync(join(profile, name), { recursive: true })
    return join(profile, name)
  }
  const console = join(profile, `console-${port}`)
  // What else it would read or write of the person's.
  const env = { XDG_CONFIG_HOME: folder('config'), XDG_CACHE_HOME: folder('home-cache'), XDG_DATA_HOME: folder('home') }
  const group: ChildProcess = spawnGroup(driver, [`--port=${port}`], {
    env: { ...process.env, ...env, DISPLAY: await display(xvfb), GTK_A11Y: 'none', NO_AT_BRIDGE: '1' },
  })
  try {
    const answers = () =>
      fetch(`${server}/status`).then(
        ({ ok }) => ok,
        () => false,
      )
    await untilTrue('WebKitWebDriver answers', answers, 20_000)
    const host = resolve('tests/engines/webkithost.py')
    const args = [host, profile, `${WINDOW.width}`, `${WINDOW.height}`, console]
    const page = await newSession(server, { 'webkitgtk:browserOptions': { binary: PYTHON, args } })
    return {
      go: async url => void (await page.go(url)),
      evaluate: (fn, ...args) => page.run(fn as never, args) as never,
      async find(fn, ...args) {
        const element = await page.element(fn as never, args)
        if (element === null) return null
        return {
          press: async () => void (await page.click(element)),
          async type(text) {
            await page.clear(element)
            if (text !== '') await page.type(element, text)
          },
        }
      },
      picture: page.picture,
      complaints: () => errorsIn(console),
      kill: () => killGroup(group),
      async close() {
        await page.end()
        await killGroup(group)
      },
    }
  } catch (error) {
    await killGroup(group)
    throw error
  }
}

/**
 * A real browser with a profile of its own that can be killed, and the harness page on a port of its own. Run from the
 * project's root.
 */
import { type ChildProcess, spawn } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { type Browser, chromium, type Page } from 'playwright'
import { rolldown } from 'rolldown'
import { CHROMIUM_ARGS, findChromium } from '../browser/chromium.mjs'
import { serve } from '../browser/server.mjs'
import type { Harness } from './page.ts'

declare global {
  var harness: Harness
  var acked: (n: string) => void
  var transacted: (what: 'begun' | 'complete') => void
}

/** What the page says while it writes: a pair is kept; a transaction that writes has begun, or is complete. */
export type Saying = { acked: string } | { transacted: 'begun' | 'complete' }

/**
 * Serves the harness page, bundled from the sources as they are.
 *
 * @param hear  gets what a page says by asking for `told?…`, where its browser has no nearer way out
 */
export async function servePage(hear: (said: Saying) => void = () => {}) {
  const bundle = await rolldown({ input: 'tests/faults/page.ts', platform: 'browser', logLevel: 'silent' })
  const { output } = await bundle.generate({ format: 'esm', codeSplitting: false })
  await bundle.close()
  const html =
    '<!doctype html><meta charset="utf-8"><title>faults</title><script type="module" src="/page.js"></script>'
  return serve(
    new Map<string, string | ((url: URL) => string)>([
      ['/index.html', html],
      ['/page.js', output[0].code],
      [
        '/told',
        ({ searchParams }: URL) => {
          hear(Object.fromEntries(searchParams) as Saying)
          return ''
        },
      ],
    ]),
  )
}

export interface Victim {
  browser: Browser
  /** Opens the harness page and the database in it. */
  open(url: string, database: string, ladderLength?: 1 | 2): Promise<Page>
  /** SIGKILL for the browser and every process that it started. */
  kill(): Promise<void>
  close(): Promise<void>
}

export function newProfile() {
  const folder = mkdtempSync(join(tmpdir(), 'moonplumb-faults-'))
  return { folder, remove: () => rmSync(folder, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 }) }
}

const ended = (child: ChildProcess) =>
  child.exitCode !== null || child.signalCode !== null
    ? Promise.resolve()
    : new Promise<void>(resolve => child.once('exit', () => resolve()))

let executable: Promise<string> | undefined

export async function startBrowser(profile: string): Promise<Victim> {
  for (const name of ['SingletonLock', 'SingletonSocket', 'SingletonCookie', 'DevToolsActivePort'])
    rmSync(join(profile, name), { force: true }) // left behind by the one that was killed
  const args = [
    ...CHROMIUM_ARGS,
    '--headless=new',
    '--remote-debugging-port=0',
    `--user-data-dir=${profile}`,
    'about:blank',
  ]
  // A process group of its own, so that a kill takes all of it and nothing else.
  executable ??= findChromium()
  const child = spawn(await executable, args, { stdio: 'ignore', detached: true })
  let port = ''
  for (let tries = 0; port === ''; tries++) {
    if (tries > 600 || child.exitCode !== null) throw new Error('the browser did not start')
    await new Promise(resolve => setTimeout(resolve, 25))
    try {
      port = readFileSync(join(profile, 'DevToolsActivePort'), 'utf8').split('\n')[0]!
    } catch {
      // not yet
    }
  }
  const browser = await chromium.connectOverCDP(`http://localhost:${port}`)
  const kill = async () => {
    try {
      process.kill(-child.pid!, 'SIGKILL')
    } catch {
      // gone already
    }
    await ended(child)
  }
  return {
    browser,
    async open(url, database, ladderLength = 1) {
      const page = await browser.contexts()[0]!.newPage()
      await page.goto(url)
      await page.waitForFunction('globalThis.harness')
      await page.evaluate(([name, length]) => harness.open(name, length), [database, ladderLength] as const)
      return page
    },
    kill,
    async close() {
      await browser.close().catch(() => {})
      const limit = setTimeout(kill, 5_000)
      await ended(child)
      clearTimeout(limit)
    },
  }
}

export interface Bench {
  victim: Victim
  /** Of the harness page. */
  url: string
  origin: string
}

/** On a browser of its own, with the harness page served. */
export async function onBench<T>(act: (bench: Bench) => Promise<T>): Promise<T> {
  const server = await servePage()
  const profile = newProfile()
  const victim = await startBrowser(profile.folder)
  try {
    return await act({ victim, url: server.url, origin: new URL(server.url).origin })
  } finally {
    await victim.close()
    await server.stop()
    profile.remove()
  }
}

/**
 * What hosts do to the program on a phone: each wrong answer for each part in turn, when it is installed, when a new
 * version comes, and later when a part has gone bad; whole hosts, half-finished deployments, a roll-back, a version that
 * does not start. Whatever happens: nothing mixed runs, the page is never empty without a word, and once the host is right
 * the program starts with the network off, with its book. HOSTS=few tries
 * every eighth part; any other word only the rows and parts that have it in their name.
 */
import { cpSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { type Browser, type BrowserContext, chromium, type Page } from 'playwright'
import { CHROMIUM_ARGS, findChromium } from '../browser/chromium.mjs'
import { listOf, variant } from '../browser/variants.mjs'
import { builtApart } from '../helpers/builtapart.ts'
import { type BadHost, badHost, WRONG, type Wrong } from './badhost.ts'
import {
  askWorker,
  type Damage,
  damage,
  install,
  installed,
  isOne,
  knownToStart,
  lookForUpdate,
  openOffline,
  type Seen,
  see,
  takeOver,
  writeBook,
} from './hosts.ts'

const AT_ONCE = 4
const LONGEST_MS = 240_000
/** These cost a minute each, as a host that hangs does: tried on the parts that differ, not on every one. */
const SLOW: readonly Wrong[] = ['hang', 'stall']
const QUICK = (Object.keys(WRONG) as Wrong[]).filter(wrong => !SLOW.includes(wrong))

interface Row {
  tried: number
  /** Seen at some time: scripts of two versions, or of another than the shell's. */
  mixed: number
  /** Seen at some time: an empty page without a word. */
  blank: number
  /** With the network off, once the host was right. */
  startedOffline: number
  /** Of those that had a book. */
  bookThere: number
}
interface Bench {
  browser: Browser
  v1: string
  v2: string
  v3: string
}
interface Run {
  context: BrowserContext
  host: BadHost
  /** Notes what is seen; afterwards it must be of version `tag`, when that is given. */
  look(page: Page, tag?: string, patienceMs?: number): Promise<Seen>
  /** The same for the end: network off, opened afresh. */
  end(tag: string, withBook?: boolean): Promise<void>
  must(is: boolean, what: string): void
  /** What it is about to do: said where it does not come to an end. */
  now(step: string): void
}

const failures: string[] = []
const empty = (): Row => ({ tried: 0, mixed: 0, blank: 0, startedOffline: 0, bookThere: 0 })

async function one(bench: Bench, row: Row, name: string, act: (run: Run) => Promise<void>): Promise<void> {
  const context = await bench.browser.newContext({ serviceWorkers: 'allow', viewport: { width: 390, height: 844 } })
  const host = await badHost(bench.v1)
  row.tried++
  const must = (is: boolean, what: string) => {
    if (is) return
    failures.push(`${name}: ${what}`)
    console.error(failures.at(-1))
  }
  const note = (seen: Seen) => {
    const isMixed = seen.scripts.length > 1 || (seen.drawn && seen.scripts.some(tag => tag !== seen.shell))
    if (isMixed) row.mixed++
    must(!isMixed, `mixed: shell ${seen.shell}, scripts ${seen.scripts}`)
    if (!seen.drawn && !seen.said) row.blank++
    must(seen.drawn || seen.said, 'an empty page')
    return seen
  }
  let late: ReturnType<typeof setTimeout> | undefined
  let step = 'began'
  const tooLate = new Promise<never>((_, reject) => {
    late = setTimeout(() => reject(new Error(`took longer than four minutes: ${step}`)), LONGEST_MS)
  })
  try {
    const acting = act({
      context,
      host,
      must,
      now: what => {
        step = what
      },
      async look(page, tag, patienceMs) {
        const seen = note(await see(page, patienceMs))
        if (tag !== undefined) must(isOne(seen, tag), `not ${tag}: ${JSON.stringify(seen)}`)
        return seen
      },
      async end(tag, withBook = true) {
        step = 'opened with the network off'
        host.answer = () => 'good'
        const seen = note(await openOffline(context, host))
        must(isOne(seen, tag), `offline not ${tag}: ${JSON.stringify(seen)}`)
        must(!withBook || seen.records > 0, 'no book')
        if (isOne(seen, tag)) row.startedOffline++
        if (seen.records > 0) row.bookThere++
      },
    })
    await Promise.race([acting, tooLate])
  } catch (error) {
    must(false, String(error).split('\n')[0]!)
  } finally {
    clearTimeout(late)
    await context.close().catch(() => {})
    await host.stop().catch(() => {})
  }
}

/** One part is wrong for the host's whole answer to it, by every way in turn; then the host is right. */
const update = (part: string, wrongs: readonly Wrong[], bench: Bench) => async (run: Run) => {
  const { context, host } = run
  const page = await install(context, host)
  await writeBook(page)
  await knownToStart(page)
  host.folder = bench.v2
  for (const wrong of wrongs) {
    host.answer = path => (path === part ? wrong : 'good')
    run.must((await lookForUpdate(page)) === 'refused', `${wrong}: not refused`)
    run.must((await askWorker(page, 'look')).faults.length === 0, `${wrong}: the version before is not whole`)
  }
  await page.reload()
  await run.look(page, 'v1')
  host.answer = () => 'good'
  run.must((await lookForUpdate(page)) === 'waiting', 'not taken once the host was right')
  await takeOver(page)
  await run.look(page, 'v2')
  await run.end('v2')
}

const atInstall = (part: string, wrong: Wrong) => async (run: Run) => {
  const { context, host } = run
  host.answer = path => (path === part || (part === 'index.html' && path === '') ? wrong : 'good')
  const page = await context.newPage()
  await page.goto(host.url, { timeout: 5_000, waitUntil: 'domcontentloaded' }).catch(() => {})
  run.now('looked at with the part wrong')
  if (part !== 'index.html') await run.look(page, undefined, 9_000)
  host.answer = () => 'good'
  run.now('closed')
  await page.close()
  run.now('opened again')
  const again = await context.newPage()
  await again.goto(host.url)
  // The browser may keep the wrong answer for a year: the page mends itself.
  await again.locator('#app main').waitFor({ timeout: 60_000 })
  run.now('waited for the service worker')
  await installed(again)
  run.now('asked the worker')
  run.must((await askWorker(again, 'look')).faults.length === 0, 'not whole once the host was right')
  await run.end('v1', false)
}

const later = (part: string, how: Damage, wrong: Wrong | 'good') => async (run: Run) => {
  const { context, host } = run
  const page = await install(context, host)
  await writeBook(page)
  await knownToStart(page)
  host.answer = path => (path === part ? wrong : 'good')
  run.must((await damage(page, part, how)) === 1, 'was not kept')
  const { faults } = await askWorker(page, 'look')
  run.must(faults.length === 1 && faults[0]!.url === part, `not said: ${JSON.stringify(faults)}`)
  await page.goto(`${host.url}?again`, { timeout: 20_000, waitUntil: 'domcontentloaded' }).catch(() => {})
  await run.look(page, wrong === 'good' ? 'v1' : undefined, 9_000)
  host.answer = () => 'good'
  await page.goto(host.url)
  await run.look(page, 'v1')
  await askWorker(page, 'repair')
  run.must((await askWorker(page, 'look')).faults.length === 0, 'not mended')
  await run.end('v1')
}

/** The host answers everything so, after the program was installed; then it brings a new version. */
const wholeHost = (wrong: Wrong, bench: Bench) => async (run: Run) => {
  const { context, host } = run
  const page = await install(context, host)
  await writeBook(page)
  await knownToStart(page)
  // A worker's script of blanks is a script: no browser and no page can tell that it is not meant.
  host.answer = path => (wrong === 'other' && path === 'sw.js' ? '404' : wrong)
  await page.reload()
  await run.look(page, 'v1')
  if (wrong !== 'hang' && wrong !== 'stall')
    run.must((await lookForUpdate(page)) !== 'waiting', 'a wrong worker was taken')
  host.answer = () => 'good'
  host.folder = bench.v2
  run.must((await lookForUpdate(page)) === 'waiting', 'not taken once the host was right')
  await takeOver(page)
  await run.look(page, 'v2')
  await run.end('v2')
}

/** @param half  which addresses are already of the new version; the others are of the old one, or not there */
const halfDeployed =
  (half: (path: string) => boolean, missing: Wrong, bench: Bench, sites: string, expected: 'refused' | 'same') =>
  async (run: Run) => {
    const { context, host } = run
    const page = await install(context, host)
    await writeBook(page)
    await knownToStart(page)
    // The old files still lie there, the new ones as far as they have come.
    const site = mkdtempSync(join(sites, 'half-'))
    cpSync(bench.v1, site, { recursive: true })
    const files = [...listOf(bench.v2).map(part => part.url), 'sw.js']
    for (const file of files.filter(half)) cpSync(join(bench.v2, file), join(site, file))
    const absent = new Set(files.filter(file => !half(file) && file.startsWith('assets/')))
    host.folder = site
    host.answer = path => (absent.has(path) ? missing : 'good')
    const came = await lookForUpdate(page)
    run.must(came === expected, `${came}, not ${expected}`)
    await page.reload()
    await run.look(page, 'v1')
    host.folder = bench.v2
    host.answer = () => 'good'
    run.must((await lookForUpdate(page)) === 'waiting', 'not taken once the host was right')
    await takeOver(page)
    await run.look(page, 'v2')
    await run.end('v2')
  }

const rollBack = (bench: Bench) => async (run: Run) => {
  const { context, host } = run
  host.folder = bench.v2
  const page = await install(context, host)
  await writeBook(page)
  host.folder = bench.v1
  run.must((await lookForUpdate(page)) === 'waiting', 'not taken')
  await page.reload()
  await run.look(page, 'v2')
  await takeOver(page)
  await run.look(page, 'v1')
  await run.end('v1')
}

/** Nobody touches the page: it loads itself again, twice, and is the last version that started. */
const doesNotStart = (bench: Bench) => async (run: Run) => {
  const { context, host } = run
  const page = await install(context, host)
  await writeBook(page)
  await knownToStart(page)
  host.folder = bench.v3
  run.must((await lookForUpdate(page)) === 'waiting', 'not taken')
  await takeOver(page)
  await page.getByText('The new version did not start').waitFor({ timeout: 60_000 })
  await run.look(page, 'v1')
  run.must((await askWorker(page, 'look')).fellBack, 'not said')
  await run.end('v1')
}

/** Two installations on one host leave each other alone. */
const beside = (bench: Bench, sites: string) => async (run: Run) => {
  const { context, host } = run
  const site = mkdtempSync(join(sites, 'two-'))
  cpSync(bench.v1, join(site, 'a'), { recursive: true })
  cpSync(bench.v2, join(site, 'b'), { recursive: true })
  host.folder = site
  const page = await context.newPage()
  await page.goto(`${host.url}a/`)
  await installed(page)
  await writeBook(page)
  await knownToStart(page)
  const kept = () =>
    page.evaluate(async () => {
      const names = (await caches.keys()).filter(name => name.includes('/a/'))
      const sizes = await Promise.all(names.map(async name => (await (await caches.open(name)).keys()).length))
      return JSON.stringify(names.map((name, k) => [name, sizes[k]]))
    })
  const before = await kept()
  const other = await context.newPage()
  await other.goto(`${host.url}b/`)
  await installed(other)
  await other.reload()
  await run.look(other, 'v2')
  run.must(await other.getByRole('button', { name: 'Open the demo' }).isVisible(), 'the book of the other is shown')
  run.must((await kept()) === before, 'what the other keeps has changed')
  run.must((await askWorker(page, 'look')).faults.length === 0, 'the other is not whole')
  await page.reload()
  const seen = await run.look(page, 'v1')
  run.must(seen.drawn, 'the other does not start')
}

export default async function study() {
  const dist = builtApart()
  const folder = mkdtempSync(join(tmpdir(), 'moonplumb-hosts-'))
  const [v1, v2] = ['v1', 'v2'].map(tag => variant(dist, join(folder, tag), tag)) as [string, string]
  const v3 = variant(dist, join(folder, 'v3'), 'v3', { broken: true })
  const browser = await chromium.launch({ executablePath: await findChromium(), args: CHROMIUM_ARGS })
  const bench = { browser, v1, v2, v3 }
  const every = process.env.HOSTS === 'few' ? 8 : 1
  const some = <T>(list: readonly T[]) => list.filter((_, i) => i % every === 0)
  const urls = listOf(v1).map(part => part.url)
  const changed = listOf(v2).filter(part => !listOf(v1).some(old => old.sha256 === part.sha256))
  const chosen = ['index.html', 'assets/index-', 'assets/first-', 'assets/SightPlace-']
  const special = (list: readonly string[]) => list.filter(url => chosen.some(start => url.startsWith(start)))
  const turn = <T>(list: readonly T[], i: number): T => list[i % list.length]!

  /** The shell is no wrong answer for itself. */
  const wrongFor = (part: string) => QUICK.filter(wrong => part !== 'index.html' || wrong !== 'index')

  const rows: Record<string, Row> = {}
  const jobs: (() => Promise<void>)[] = []
  const only = process.env.HOSTS === 'few' ? '' : (process.env.HOSTS ?? '')
  const add = (row: string, name: string, act: (run: Run) => Promise<void>) => {
    if (!`${row}, ${name}`.includes(only)) return
    rows[row] ??= empty()
    jobs.push(() => one(bench, rows[row]!, `${row}, ${name}`, act))
  }
  for (const wrong of SLOW)
    for (const part of special(changed.map(p => p.url)))
      add(`at an update: ${wrong}`, part, update(part, [wrong], bench))
  add('a version that does not start', 'untouched', doesNotStart(bench))
  for (const part of some(changed.map(p => p.url)))
    add(`at an update, a part by each of ${QUICK.length} wrong answers`, part, update(part, wrongFor(part), bench))
  for (const [i, part] of some(urls).entries())
    add('at the first visit, a part wrong', `${part} ${turn(QUICK, i)}`, atInstall(part, turn(QUICK, i)))
  for (const part of special(urls))
    for (const wrong of wrongFor(part))
      add('at the first visit, a part wrong', `${part} ${wrong}`, atInstall(part, wrong))
  const damages: Damage[] = ['lost', 'damaged', 'emptied']
  for (const [i, part] of some(urls).entries()) {
    const how = turn(damages, i)
    add('later, a part gone bad, the host right', `${part} ${how}`, later(part, how, 'good'))
    const wrong = turn(QUICK, i)
    add('later, a part gone bad, the host wrong too', `${part} ${how} ${wrong}`, later(part, how, wrong))
  }
  for (const wrong of Object.keys(WRONG) as Wrong[]) add('the whole host wrong, after', wrong, wholeHost(wrong, bench))
  const halves: [string, (path: string) => boolean, 'refused' | 'same'][] = [
    ['new shell and worker, new scripts not there', path => !path.startsWith('assets/'), 'refused'],
    ['new worker, old shell and scripts', path => path === 'sw.js', 'refused'],
    ['new shell and scripts, old worker', path => path !== 'sw.js', 'same'],
    ['half of the new scripts', path => !path.startsWith('assets/') || path < 'assets/c', 'refused'],
  ]
  for (const [name, half, expected] of halves)
    for (const missing of ['404', 'index'] as const)
      add('a half-finished deployment', `${name}, ${missing}`, halfDeployed(half, missing, bench, folder, expected))
  add('a roll-back', 'to v1', rollBack(bench))
  add('two installations on one host', 'a and b', beside(bench, folder))

  const all = jobs.length
  const work = async () => {
    for (let job = jobs.shift(); job; job = jobs.shift()) {
      await job()
      if (jobs.length % 20 === 0) console.error(`${all - jobs.length} of ${all} begun`)
    }
  }
  try {
    await Promise.all(Array.from({ length: AT_ONCE }, work))
  } finally {
    await browser.close()
    rmSync(folder, { recursive: true, force: true, maxRetries: 5 })
  }
  if (failures.length > 0) throw new Error(failures.join('\n'))
  return { parts: urls.length, changedByAnUpdate: changed.length, outcomes: rows }
}

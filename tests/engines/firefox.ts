/**
 * Firefox by WebDriver BiDi, as puppeteer-core speaks it. Debian's firefox-esr, or the one that `FIREFOX` names.
 */
import { spawnSync } from 'node:child_process'
import { rmSync } from 'node:fs'
import { join } from 'node:path'
import puppeteer, { type ElementHandle, type JSHandle, type Page } from 'puppeteer-core'
import { type Browser, type Engine, type StartOptions, WINDOW } from './engine.ts'
import { findCommand, foundOrInstalled } from './packages.ts'
import { killGroup } from './processes.ts'

export function firefox(): Engine {
  const path = foundOrInstalled('Firefox', ['firefox-esr'], () =>
    findCommand(process.env.FIREFOX, 'firefox-esr', 'firefox'),
  )
  const what = spawnSync(path, ['--version'], { encoding: 'utf8' }).stdout.trim()
  return { name: 'firefox', what, canBeFull: true, start: (profile, options) => start(path, profile, options) }
}

async function start(path: string, profile: string, { roomKb }: StartOptions = {}): Promise<Browser> {
  for (const lock of ['lock', '.parentlock']) rmSync(join(profile, lock), { force: true }) // of the one that was killed
  const browser = await puppeteer.launch({
    browser: 'firefox',
    executablePath: path,
    headless: true,
    userDataDir: profile,
    defaultViewport: null,
    args: ['--width', `${WINDOW.width}`, '--height', `${WINDOW.height}`],
    extraPrefsFirefox: {
      ...(roomKb !== undefined && { 'dom.quotaManager.temporaryStorage.fixedLimit': roomKb }),
      // A form that was typed into asks before it is left: nobody is here to answer.
      'dom.disable_beforeunload': true,
    },
    handleSIGINT: false,
  })
  const page = (await browser.pages())[0] ?? (await browser.newPage())
  await page.setViewport({ ...WINDOW, deviceScaleFactor: 2 })
  const complaints: string[] = []
  page.on('console', message => {
    if (message.type() === 'error') complaints.push(`console: ${message.text()}`)
  })
  page.on('pageerror', error => complaints.push(`page error: ${error instanceof Error ? error.message : error}`))
  return {
    go: async url => void (await page.goto(url)),
    evaluate: (fn, ...args) => page.evaluate(fn as never, ...args) as never,
    async find(fn, ...args) {
      const handle: JSHandle = await page.evaluateHandle(
        fn as never,
        ...(args as readonly unknown[] as readonly never[]),
      )
      const element = handle.asElement() as ElementHandle<Element> | null
      return element && touched(page, element)
    },
    picture: async () => Buffer.from(await page.screenshot()),
    complaints: () => complaints,
    kill: () => killGroup(browser.process()!),
    close: () => browser.close(),
  }
}

const touched = (page: Page, element: ElementHandle<Element>) => ({
  press: () => element.click(),
  async type(text: string) {
    await element.click()
    await element.evaluate(field => (field as HTMLInputElement).select())
    if (text === '') await page.keyboard.press('Backspace')
    else await page.keyboard.type(text)
  },
})

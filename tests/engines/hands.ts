/** A person at a browser: looks for things by what they are and what they are called, presses, types, reads. */
import type { Browser, Found } from './engine.ts'

export type Role = 'button' | 'link' | 'textbox' | 'radio' | 'heading'
/** All of it, or what it matches. */
export type Name = string | RegExp

const PATIENCE_MS = 30_000

/**
 * Runs in the page: the first one in sight of that role and name, moved to the middle of the window. Of a radio button that
 * lies under its words, the words.
 */
function look(role: string, exact: string | null, pattern: string | null): Element | null {
  const squeezed = (text: string | null | undefined) => (text ?? '').replace(/\s+/g, ' ').trim()
  const textOf = (element: Element): string => {
    const copy = element.cloneNode(true) as Element
    for (const hidden of copy.querySelectorAll('[aria-hidden="true"], input, textarea, select')) hidden.remove()
    return squeezed(copy.textContent)
  }
  const nameOf = (element: Element): string => {
    const by = element.getAttribute('aria-labelledby')
    if (by !== null)
      return squeezed(
        by
          .split(' ')
          .map(id => document.getElementById(id)?.textContent)
          .join(' '),
      )
    const own = element.getAttribute('aria-label')
    if (own !== null) return squeezed(own)
    const labels = (element as HTMLInputElement).labels
    return labels && labels.length > 0 ? squeezed([...labels].map(textOf).join(' ')) : textOf(element)
  }
  const SELECTORS: Record<string, string> = {
    button: 'button, [role="button"], summary',
    link: 'a[href]',
    textbox: 'input[type="text"], input:not([type]), textarea',
    radio: 'input[type="radio"]',
    heading: 'h1, h2, h3',
  }
  const fits = (name: string) => (exact === null ? new RegExp(pattern!).test(name) : name === exact)
  for (const element of document.querySelectorAll(SELECTORS[role]!)) {
    const touched = (role === 'radio' && (element as HTMLInputElement).labels?.[0]) || element
    if (touched.getClientRects().length === 0 || !fits(nameOf(element))) continue
    touched.scrollIntoView({ block: 'center', behavior: 'instant' })
    return touched
  }
  return null
}

/** Again and again until it is there. @throws Error with what the screen says instead */
export async function until<T>(
  browser: Browser,
  what: string,
  get: () => Promise<T | null | undefined | false>,
  patienceMs = PATIENCE_MS,
): Promise<T> {
  let trouble = ''
  for (const end = Date.now() + patienceMs; Date.now() < end; ) {
    try {
      const got = await get()
      if (got !== null && got !== undefined && got !== false) return got
    } catch (error) {
      trouble = ` (${error})` // between two pages
    }
    await new Promise(resolve => setTimeout(resolve, 50))
  }
  const screen = await text(browser).catch(() => 'nothing')
  throw new Error(`no ${what} within ${patienceMs / 1000} s${trouble}; the screen says: ${screen.slice(0, 1500)}`)
}

export function find(browser: Browser, role: Role, name: Name): Promise<Found> {
  const [exact, pattern] = typeof name === 'string' ? [name, null] : [null, name.source]
  return until(browser, `${role} ${name}`, () => browser.find(look, role, exact, pattern))
}
export const has = async (browser: Browser, role: Role, name: Name): Promise<boolean> => {
  const [exact, pattern] = typeof name === 'string' ? [name, null] : [null, name.source]
  return (await browser.find(look, role, exact, pattern)) !== null
}

/** Once more where the screen was just being drawn: what was found may be gone then. */
async function act(browser: Browser, role: Role, name: Name, how: (found: Found) => Promise<void>): Promise<void> {
  try {
    await how(await find(browser, role, name))
  } catch (first) {
    await new Promise(resolve => setTimeout(resolve, 200))
    await how(await find(browser, role, name)).catch(() => {
      throw first
    })
  }
}

export const press = (browser: Browser, name: Name): Promise<void> => act(browser, 'button', name, f => f.press())
export const pick = (browser: Browser, name: Name): Promise<void> => act(browser, 'radio', name, f => f.press())

export async function type(browser: Browser, texts: Record<string, string>): Promise<void> {
  for (const [name, typed] of Object.entries(texts)) await act(browser, 'textbox', name, f => f.type(typed))
}

/** All at once, as a paste does: long texts. */
export async function paste(browser: Browser, name: string, pasted: string): Promise<void> {
  await (await find(browser, 'textbox', name)).press()
  await browser.evaluate(value => {
    const field = document.activeElement as HTMLTextAreaElement
    field.select()
    Object.getOwnPropertyDescriptor(HTMLTextAreaElement.prototype, 'value')!.set!.call(field, value)
    field.dispatchEvent(new InputEvent('input', { bubbles: true, inputType: 'insertFromPaste' }))
  }, pasted)
}

/** What stands in a field. */
export const valueOf = async (browser: Browser, name: string): Promise<string> => {
  await (await find(browser, 'textbox', name)).press()
  return browser.evaluate(() => (document.activeElement as HTMLInputElement).value)
}

/** What can be read on the screen. */
export const text = (browser: Browser): Promise<string> => browser.evaluate(() => document.body.innerText)

/** Waits until the screen says one of these, and answers which. */
export function says<T extends string>(browser: Browser, patterns: Record<T, RegExp>, patienceMs?: number): Promise<T> {
  const all = Object.entries(patterns) as [T, RegExp][]
  const get = async () => {
    const screen = await text(browser)
    return all.find(([, pattern]) => pattern.test(screen))?.[0]
  }
  return until(browser, all.map(([, pattern]) => pattern.source).join(' or '), get, patienceMs)
}
export const untilSaid = async (browser: Browser, pattern: RegExp, patienceMs?: number): Promise<void> =>
  void (await says(browser, { said: pattern }, patienceMs))

/** To another screen, by the address within the page: needs no server. */
export const goTo = (browser: Browser, hash: string): Promise<void> =>
  browser.evaluate(to => {
    location.hash = to
  }, hash)

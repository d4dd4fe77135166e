/**
 * Quick hands: a row of presses and looks on one page, done in one go. A thing is found by its role and by the name that a person
 * reads or hears, never by class or id; it is pressed only where it is drawn, lies uncovered under the finger and is not off. The dish
 * at hand is the sheet over the screen, all else is the screen.
 *
 * Playwright's own clicks do the same with a wait for two frames each: ten times as long for the hundred presses of a peak.
 */
import type { Page } from '@playwright/test'

/**
 * Names are the sources of regular expressions, put against the whole name. `within`: in place of the usual
 * patience, ms; `unless`: not where a button of that name is there.
 */
export type Act =
  | { press: string; on: Part; within?: number; unless?: string }
  | { pick: string; on: Part }
  /** Into the first field that the name fits, or the n-th of them, from 0. */
  | { write: string; nth?: number; text: string; on: Part }
  /** The text field of that name, or the n-th, has the focus. */
  | { touch: string | number; on: Part }
  /** What stands beside a label. */
  | { read: string; on: Part }
  /** The whole name of a button. */
  | { name: string; on: Part }
  /** Waits until there is no such button. */
  | { gone: string; on: Part }
  /** Waits for words; what the expression's first group holds, or all that it fits. */
  | { see: string; on: Part }
export type Part = 'sheet' | 'screen'

/** How long a thing may take to appear: a slow machine's. ms */
const PATIENCE_MS = 30_000

/** Does them one after the other. @returns what was read and seen, in order @throws what could not be done */
export const act = (page: Page, ...acts: Act[]): Promise<string[]> =>
  page.evaluate(doAll, { acts, patienceMs: PATIENCE_MS })

/** The same for one page. */
export type Hands = (...acts: Act[]) => Promise<string[]>

export const OPEN: Act = { press: 'Dish at hand', on: 'screen', unless: 'Put away' }
export const AWAY: Act = { press: 'Put away', on: 'screen', unless: 'Dish at hand' }

/** A number as a screen shows it, its unit after it. */
export const number = (text: string): number => Number(text.replace('−', '-').replace(/[^\d.-]/g, ''))

/** Runs in the page: nothing from outside of it but its argument. */
async function doAll({ acts, patienceMs }: { acts: Act[]; patienceMs: number }): Promise<string[]> {
  const rest = (ms = 0) => new Promise(resolve => setTimeout(resolve, ms))
  const plain = (text: string | null | undefined) => (text ?? '').replace(/\s+/g, ' ').trim()
  const sheet = () => document.querySelector('aside[aria-label="The dish at hand"]')
  const on = (part: Part, el: Element) => (part === 'sheet') === (sheet()?.contains(el) ?? false)
  const isDrawn = (el: Element) => el.checkVisibility({ opacityProperty: true, visibilityProperty: true })
  const all = (selector: string, part: Part) =>
    [...document.querySelectorAll<HTMLElement>(selector)].filter(el => on(part, el) && isDrawn(el))
  const seen = (part: Part): string => {
    const root = part === 'sheet' ? sheet() : document.querySelector('main')?.parentElement
    // biome-ignore lint/performance/useDomNodeTextContent: what is hidden from sight is not to be read
    return plain((root as HTMLElement | null | undefined)?.innerText)
  }
  const fits = (name: string, source: string) => new RegExp(`^(?:${source})$`).test(name)
  const nameOf = (el: Element) => plain(el.getAttribute('aria-label') ?? el.textContent)
  const fields = (part: Part) => all('input[type=text]', part) as HTMLInputElement[]
  const fieldName = (el: HTMLInputElement) => plain(el.labels?.[0]?.textContent ?? el.getAttribute('aria-label'))
  /** Where a finger would come down on it; null where something else lies there. */
  const isReached = (el: Element): boolean => {
    const { left, top, width, height } = el.getBoundingClientRect()
    const hit = document.elementFromPoint(left + width / 2, top + height / 2)
    return hit !== null && (el.contains(hit) || hit.contains(el))
  }
  /** Scrolled to, where it is not reached at once. */
  const reached = (el: Element): boolean => {
    if (isReached(el)) return true
    el.scrollIntoView({ block: 'center' })
    return isReached(el)
  }
  const put = (field: HTMLInputElement, text: string) => {
    field.focus()
    field.value = text
    field.dispatchEvent(new Event('input', { bubbles: true }))
  }
  /** Done: what was read, or true. Not yet: why. */
  const tried = (one: Act): { done: string | true } | { why: string } => {
    const buttons = (source: string) => all('button, a[href], summary', one.on).filter(b => fits(nameOf(b), source))
    if ('press' in one) {
      if (one.unless !== undefined && buttons(one.unless).length > 0) return { done: true }
      const el = buttons(one.press)[0]
      if (!el) return { why: 'not there' }
      if (el.matches(':disabled, [aria-disabled=true]')) return { why: 'off' }
      if (!reached(el)) return { why: 'covered' }
      el.click()
      return { done: true }
    }
    if ('name' in one) {
      const el = buttons(one.name)[0]
      return el ? { done: nameOf(el) } : { why: 'not there' }
    }
    if ('gone' in one) return buttons(one.gone).length === 0 ? { done: true } : { why: 'still there' }
    if ('pick' in one) {
      const el = [...document.querySelectorAll<HTMLInputElement>('input[type=radio]')].find(
        r => on(one.on, r) && fits(plain(r.labels?.[0]?.textContent), one.pick),
      )
      const plate = el?.labels?.[0]
      if (!el || !plate || !isDrawn(plate)) return { why: 'not there' }
      if (el.checked) return { done: true }
      if (!reached(plate)) return { why: 'covered' }
      plate.click()
      return { done: true }
    }
    if ('write' in one) {
      const el = fields(one.on).filter(f => fits(fieldName(f), one.write))[one.nth ?? 0]
      if (!el) return { why: 'not there' }
      if (!reached(el)) return { why: 'covered' }
      put(el, one.text)
      return { done: true }
    }
    if ('touch' in one) {
      const { touch } = one
      const list = fields(one.on)
      const el = typeof touch === 'number' ? list[touch] : list.find(f => fits(fieldName(f), touch))
      if (!el) return { why: 'not there' }
      if (!reached(el)) return { why: 'covered' }
      el.focus()
      return { done: true }
    }
    if ('read' in one) {
      const label = all('span, dt, label', one.on).find(el => fits(plain(el.textContent), one.read))
      const value = label?.nextElementSibling
      return value ? { done: plain(value.textContent) } : { why: 'not there' }
    }
    const found = new RegExp(one.see, 's').exec(seen(one.on))
    return found ? { done: found[1] ?? found[0] } : { why: 'not seen' }
  }
  const out: string[] = []
  for (const one of acts) {
    const until = performance.now() + (('within' in one && one.within) || patienceMs)
    for (;;) {
      const how = tried(one)
      if ('done' in how) {
        if (how.done !== true) out.push(how.done)
        break
      }
      if (performance.now() > until)
        throw new Error(`${JSON.stringify(one)}: ${how.why}. Seen: ${seen('screen').slice(0, 1500)} | ${seen('sheet')}`)
      await rest(40)
    }
    // What a press changes is drawn in a later task.
    await rest()
  }
  return out
}

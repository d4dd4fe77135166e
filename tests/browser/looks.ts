/** What the face's tests ask of the screen that is open: what axe finds, what is too wide, what is too small to press. */
import { createRequire } from 'node:module'
import type { Page } from './rig.ts'

const { source } = createRequire(import.meta.url)('axe-core') as { source: string }

interface Finding {
  id: string
  nodes: { html: string }[]
}
declare global {
  var axe: { run(root: string | Document, options: object): Promise<{ violations: Finding[] }> } | undefined
}

/**
 * What axe finds, a line each. It is put into a page once, where its own binding for Playwright opens another page for each look.
 *
 * @param options  of axe.run
 * @param within   a selector: no farther than there
 */
export async function axeFinds(page: Page, options: object = {}, within?: string): Promise<string[]> {
  if (await page.evaluate(() => globalThis.axe === undefined)) await page.evaluate(source)
  return page.evaluate(
    async ({ options, within }) => {
      const { violations } = await axe!.run(within ?? document, {
        resultTypes: ['violations'],
        preload: false,
        ...options,
      })
      return violations.map(v => `${v.id}: ${v.nodes.map(n => n.html.slice(0, 160)).join(' | ')}`)
    },
    { options, within },
  )
}

/** What is wider than its window or than the part that scrolls it, or cut off at its side. */
export const tooWide = (page: Page): Promise<string[]> =>
  page.evaluate(() => {
    const wide: string[] = []
    const root = document.documentElement
    if (Math.max(root.scrollWidth, document.body.scrollWidth) > root.clientWidth) wide.push('the page')
    for (const e of document.querySelectorAll('#app *')) {
      // Words for screen readers are cut on purpose; a drawing decides itself, and what is typed may be long.
      if (e.scrollWidth <= e.clientWidth + 1 || e.clientWidth <= 1 || e.closest('svg, input')) continue
      if (getComputedStyle(e).overflowX !== 'visible') wide.push(`${e.tagName}.${e.className}`)
    }
    return wide
  })

/** The longest that a screen may be on a phone of 390 × 844, header and places included: some three screenfuls. px */
const LONGEST_PX = 2500

/** A screen that is longer, and one whose page scrolls on below the places. In a window no higher than that. */
export const tooLong = (page: Page): Promise<string[]> =>
  page.evaluate(longest => {
    const long: string[] = []
    const body = document.querySelector('.screen-body')!
    const whole = innerHeight - body.clientHeight + body.scrollHeight
    if (whole > longest) long.push(`${whole} px long`)
    if (document.documentElement.scrollHeight > innerHeight) long.push('the page scrolls below the places')
    return long
  }, LONGEST_PX)

/** Targets lower or narrower than a gloved finger needs: 56 px, the action 72. */
export const tooSmall = (page: Page): Promise<string[]> =>
  page.evaluate(() => {
    const small: string[] = []
    for (const e of document.querySelectorAll<HTMLElement>('#app :is(button, a[href], summary, input, textarea)')) {
      const seen = e.closest<HTMLElement>('.choice-one, .book-file') ?? e
      const { width, height } = seen.getBoundingClientRect()
      const least = e.matches('.action') ? 72 : 56
      if (width > 1 && (height < least - 0.5 || width < 44))
        small.push(
          `${e.tagName}.${e.className} "${(e.textContent ?? '').slice(0, 30)}" ${Math.round(width)} × ${Math.round(height)}`,
        )
    }
    return small
  })

/** Words broken in two within a line's width. A name that a person gave, and a word longer than a line of large letters, may be. */
export const brokenWords = (page: Page): Promise<string[]> =>
  page.evaluate(() => {
    const broken: string[] = []
    const walker = document.createTreeWalker(document.querySelector('#app')!, NodeFilter.SHOW_TEXT)
    while (walker.nextNode()) {
      const node = walker.currentNode as Text
      const part = node.parentElement!
      // What is folded away has no lines, nor has what only a screen reader says.
      if (part.closest('bdi') || !part.checkVisibility({ contentVisibilityAuto: true })) continue
      if (part.getBoundingClientRect().width <= 1 || part.parentElement!.getBoundingClientRect().width <= 1) continue
      // Parted at hyphens and slashes, as a browser parts them.
      for (const word of node.data.matchAll(
        /(?<![^\s\u00a0/\-\u2010-\u2015])[^\s\u00a0/\-\u2010-\u2015]{2,14}(?![^\s\u00a0/\-\u2010-\u2015])/g,
      )) {
        const range = document.createRange()
        range.setStart(node, word.index)
        range.setEnd(node, word.index + word[0].length)
        const lines = new Set([...range.getClientRects()].filter(r => r.width > 1).map(r => Math.round(r.top)))
        if (lines.size > 1) broken.push(`"${word[0]}" is broken`)
      }
    }
    return broken
  })

/** What cannot be pressed and is framed as if it could: its frame is faint, by `--hairline`. */
export const seemsPressable = (page: Page): Promise<string[]> =>
  page.evaluate(() => {
    const probe = document.body.appendChild(document.createElement('i'))
    probe.style.color = 'var(--hairline)'
    const faint = getComputedStyle(probe).color
    probe.remove()
    return [...document.querySelectorAll('#app button:is(:disabled, [aria-disabled="true"])')]
      .filter(b => {
        const { borderTopColor, borderTopWidth } = getComputedStyle(b)
        return borderTopWidth !== '0px' && borderTopColor !== faint
      })
      .map(b => `"${b.textContent}" cannot be pressed and looks as if it could`)
  })

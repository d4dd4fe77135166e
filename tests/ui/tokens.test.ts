import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { THEME_PAPER } from '../../src/ui/kit/theme.ts'

const css = readFileSync(new URL('../../src/ui/tokens.css', import.meta.url), 'utf8').replace(/\/\*[\s\S]*?\*\//g, '')

/** Colours of the block that follows the selector. */
function colours(selector: string): Record<string, string> {
  const start = css.indexOf(selector)
  expect(start, selector).toBeGreaterThanOrEqual(0)
  const block = css.slice(css.indexOf('{', start), css.indexOf('}', start))
  return Object.fromEntries([...block.matchAll(/--([\w-]+):\s*(#[0-9a-f]{6})/g)].map(m => [m[1]!, m[2]!]))
}
const channels = (hex: string) => [1, 3, 5].map(i => Number.parseInt(hex.slice(i, i + 2), 16))

/** WCAG 2.2, "relative luminance" and "contrast ratio" (w3.org/TR/WCAG22/#dfn-contrast-ratio). */
function contrast(a: string, b: string): number {
  const [x, y] = [a, b].map(hex => {
    const [r, g, bl] = channels(hex).map(c =>
      c / 255 <= 0.04045 ? c / 255 / 12.92 : ((c / 255 + 0.055) / 1.055) ** 2.4,
    )
    return 0.2126 * r! + 0.7152 * g! + 0.0722 * bl!
  })
  return (Math.max(x!, y!) + 0.05) / (Math.min(x!, y!) + 0.05)
}

const daylight = colours(':root[data-theme="daylight"]')
const dusk = colours(':root[data-theme="dusk"]')
const night = colours(':root[data-theme="night"]')
const TEXT = ['ink', 'ink-2', 'mark', 'good', 'look-out', 'stop', 'focus']

describe('tokens', () => {
  it('black on white is 21:1 by the measure used here', () => expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 6))
  it.each([
    ['daylight', 7, daylight],
    ['dusk', 7, dusk],
    ['night', 4.5, night],
  ] as const)('%s: every ink on both papers, and the action, at %s:1 or better', (_, least, theme) => {
    for (const ink of TEXT)
      for (const paper of ['paper', 'paper-2'])
        expect(contrast(theme[ink]!, theme[paper]!), `${ink} on ${paper}`).toBeGreaterThanOrEqual(least)
    // Night's action is 22 px bold, large text by WCAG; it passes the stricter figure all the same.
    expect(contrast(theme['action-ink']!, theme['action-fill']!)).toBeGreaterThanOrEqual(4.5)
    expect(contrast(theme.ink!, theme.picked!)).toBeGreaterThanOrEqual(3)
  })
  it('night has no green or blue above a tenth of its channel', () => {
    const all = Object.entries(night)
    expect(all.length).toBeGreaterThan(12)
    for (const [name, hex] of all) {
      expect(channels(hex)[1], name).toBeLessThanOrEqual(25)
      expect(channels(hex)[2], name).toBeLessThanOrEqual(25)
    }
  })
  it('dusk chosen by the system is dusk chosen by hand', () =>
    expect(colours(':root:not([data-theme]) {')).toEqual(dusk))
  it('every theme sets the same tokens', () => {
    expect(Object.keys(dusk)).toEqual(Object.keys(daylight))
    expect(Object.keys(night)).toEqual(Object.keys(daylight))
  })
  it('the status bar has the paper of its theme', () => {
    expect(THEME_PAPER).toEqual({ daylight: daylight.paper, dusk: dusk.paper, night: night.paper })
  })
  it('no part and no plot has a colour of its own but black and white for print', () => {
    for (const file of ['ground', 'screen', 'numbers', 'controls', 'plots']) {
      const text = readFileSync(new URL(`../../src/ui/kit/${file}.css`, import.meta.url), 'utf8')
      const own = [...text.matchAll(/#[0-9a-f]{3,8}\b|rgba?\(|hsla?\(/gi)].map(m => m[0])
      expect(own.filter(c => c !== '#000000' && c !== '#ffffff')).toEqual([])
      expect(text).not.toMatch(/box-shadow: (?!inset 0 0 0)|border-radius: [1-9]|animation|transition/)
    }
  })
})

/**
 * A number and its unit stand on one line, and so do ± and its number: in whatever is drawn, whoever wrote the sentence. Done
 * here, where elements are made, with U+00A0. What is exported, copied or typed is no element's text and keeps its own blanks.
 */
import { Fragment, options } from 'preact'
import { NBSP } from './format.ts'

const UNITS = '%|[cmk]?m²?|[µm]?s|min|h|d|dBi?|[GMk]?Hz|K|sfu|hPa|k?W|[kM]B|kg|km/h|UTC|counts?|in(?=[.,;:)]|$)'
const BREAKS = new RegExp(`(?<=\\d) (?=(?:${UNITS})(?![\\p{L}\\d]))|(?<=±) (?=\\d)`, 'gu')

/** "± 0.3 dB" with no blank that a line may end at. As long as before. */
export const joined = (text: string): string => text.replace(BREAKS, NBSP)

type Children = { children?: unknown }
const isText = (child: unknown): child is string | number => typeof child === 'string' || typeof child === 'number'

/** Pieces of text beside each other are one line of words: "{seconds} s" is two of them. */
function joinedAll(children: unknown[]): unknown[] {
  if (!children.some(child => isText(child) || Array.isArray(child))) return children
  const words = joined(children.map(child => (isText(child) ? String(child) : '\n')).join(''))
  let at = 0
  return children.map(child => {
    if (!isText(child)) {
      at++
      return Array.isArray(child) ? joinedAll(child) : child
    }
    const from = at
    at += String(child).length
    return words.slice(from, at)
  })
}

/** To be copied by hand. */
const AS_IT_IS = new Set(['pre', 'textarea'])

const before = options.vnode
options.vnode = vnode => {
  const { type } = vnode
  // A component passes on what it was given, or makes something else of it: its elements come by here too.
  if (type === Fragment || (typeof type === 'string' && !AS_IT_IS.has(type))) {
    const props = vnode.props as Children
    if (typeof props.children === 'string') props.children = joined(props.children)
    else if (Array.isArray(props.children)) props.children = joinedAll(props.children)
  }
  before?.(vnode)
}

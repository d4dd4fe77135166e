/**
 * Other versions of the program made from one build, without building again: every script under another name, as when
 * something that all of them import has changed, and each of them noting, when it runs, of which version it is.
 */
import { createHash } from 'node:crypto'
import { cpSync, readdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'

/** The service worker's list, as the build wrote it. @returns {{ url: string, bytes: number, sha256: string, type: string }[]} */
export function listOf(dir) {
  const text = readFileSync(join(dir, 'sw.js'), 'utf8')
  return JSON.parse(text.match(LIST)?.[0] ?? 'no list in sw.js')
}
const LIST = /\[\{[^[\]]*"sha256"[^[\]]*\}\]/

/** Writes the list again from the files as they are now. @param rename  what a listed file is called now */
export function relist(dir, rename = url => url) {
  const parts = listOf(dir).map(part => {
    const url = rename(part.url)
    const bytes = readFileSync(join(dir, url))
    return { ...part, url, bytes: bytes.length, sha256: createHash('sha256').update(bytes).digest('hex') }
  })
  const file = join(dir, 'sw.js')
  writeFileSync(
    file,
    readFileSync(file, 'utf8').replace(LIST, () => JSON.stringify(parts)),
  )
  return parts
}

/**
 * A copy of a build as another version.
 *
 * @param tag     two letters or digits: its page is titled "Moonplumb TAG", its scripts push the tag to `globalThis.ran`
 * @param broken  its first script throws before it draws anything
 */
export function variant(from, to, tag, { broken = false } = {}) {
  cpSync(from, to, { recursive: true })
  const assets = join(to, 'assets')
  // "MountPlace-VXn3w8Bz.js" → "MountPlace-v2n3w8Bz.js"
  const renamed = new Map(
    readdirSync(assets)
      .filter(name => name.endsWith('.js'))
      .map(name => [name, name.slice(0, -'VXn3w8Bz.js'.length) + tag + name.slice(-'n3w8Bz.js'.length)]),
  )
  const again = text => {
    for (const [old, name] of renamed) text = text.replaceAll(old, name)
    return text
  }
  for (const [old, name] of renamed) {
    const text = again(readFileSync(join(assets, old), 'utf8'))
    const first = `(globalThis.ran??=[]).push(${JSON.stringify(tag)});`
    const fails = broken && old.startsWith('index-') ? "throw new Error('does not start');" : ''
    writeFileSync(join(assets, old), `${first}${fails}${text}`)
    renameSync(join(assets, old), join(assets, name))
  }
  const shell = join(to, 'index.html')
  const html = again(readFileSync(shell, 'utf8')).replace('<title>Moonplumb</title>', `<title>Moonplumb ${tag}</title>`)
  writeFileSync(shell, html)
  relist(to, url =>
    renamed.has(url.slice('assets/'.length)) ? `assets/${renamed.get(url.slice('assets/'.length))}` : url,
  )
  return to
}

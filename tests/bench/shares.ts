/**
 * What the JavaScript of the page is made of: a build of its own with a source map, and every byte of each file counted
 * for the source that it comes from.
 */
import { spawnSync } from 'node:child_process'
import { existsSync, mkdtempSync, readFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { gzipSync } from 'node:zlib'

export interface Share {
  /** A library, or a floor of the program: "astronomy-engine", "src/ui". */
  from: string
  minifiedBytes: number
  /** Of these bytes alone; together they come to a little more than the whole. */
  gzippedBytes: number
}

export interface Weighed {
  /** Names of the files that a fresh page loads before its first screen. */
  files: string[]
  gzippedBytes: number
  minifiedBytes: number
  /** With the places that are loaded once the first screen stands. */
  withAllPlacesGzippedBytes: number
  shares: Share[]
}

const BASE64 = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/'

/** The numbers of a segment of a source map (base64 VLQ: five bits a digit, the sign in the lowest bit). */
export function vlq(segment: string): number[] {
  const numbers: number[] = []
  let value = 0
  let shift = 0
  for (const letter of segment) {
    const digit = BASE64.indexOf(letter)
    value += (digit & 31) << shift
    shift += 5
    if (digit & 32) continue
    numbers.push(value & 1 ? -(value >> 1) : value >> 1)
    value = 0
    shift = 0
  }
  return numbers
}

/** The text of a file, piece by piece with the source of each: from its place to the next one's. */
export function piecesOf(code: string, map: { mappings: string; sources: (string | null)[] }): [string, string][] {
  const pieces: [string, string][] = []
  const lines = code.split('\n')
  let source = 0
  map.mappings.split(';').forEach((segments, row) => {
    const line = `${lines[row] ?? ''}\n`
    let column = 0
    let from = ''
    let start = 0
    for (const segment of segments.split(',').filter(s => s !== '')) {
      const [step = 0, other] = vlq(segment)
      column += step
      pieces.push([from, line.slice(start, column)])
      start = column
      if (other !== undefined) source += other
      from = other === undefined ? '' : (map.sources[source] ?? '')
    }
    pieces.push([from, line.slice(start)])
  })
  return pieces
}

/** "preact", "@preact/signals", "src/ui", or "the builder's own". */
function originOf(source: string): string {
  const library = source.match(/.*node_modules\/((?:@[^/]+\/)?[^/]+)/)?.[1]
  return library ?? source.match(/src\/[^/]+/)?.[0]?.replace(/\.tsx?$/, '') ?? 'the builder’s own'
}

interface Listed {
  file: string
  isEntry?: boolean
  /** Keys of the list. */
  imports?: string[]
}

/**
 * Builds the app beside the real build and weighs what its page loads first: the entry and what it imports without asking.
 *
 * @returns dir  where the build lies; the caller removes it
 */
export function buildAndWeigh(): { dir: string; weighed: Weighed } {
  const dir = mkdtempSync(join(tmpdir(), 'moonplumb-weighed-'))
  const vite = 'node_modules/vite/bin/vite.js'
  const how = ['build', '--outDir', dir, '--manifest', 'list.json', '--sourcemap', 'hidden', '--emptyOutDir']
  // What the builder says would come between the figures on stdout.
  const { status } = spawnSync(process.execPath, [vite, ...how], { stdio: 'ignore' })
  if (status !== 0) throw new Error('the build failed')
  const listed: Record<string, Listed> = JSON.parse(readFileSync(join(dir, 'list.json'), 'utf8'))
  const first = new Set<string>()
  const take = (key: string) => {
    if (first.has(key)) return
    first.add(key)
    listed[key]!.imports?.forEach(take)
  }
  for (const [key, { isEntry }] of Object.entries(listed)) if (isEntry) take(key)
  const gz = (text: string) => gzipSync(text, { level: 9 }).length
  const codeOf = (key: string) => readFileSync(join(dir, listed[key]!.file), 'utf8')
  const scripts = Object.keys(listed).filter(key => listed[key]!.file.endsWith('.js'))
  const texts = new Map<string, string>()
  for (const key of first) {
    const map = join(dir, `${listed[key]!.file}.map`)
    // What the builder puts in itself has none.
    const pieces = existsSync(map)
      ? piecesOf(codeOf(key), JSON.parse(readFileSync(map, 'utf8')))
      : [['', codeOf(key)] as const]
    for (const [source, text] of pieces) {
      const from = originOf(source)
      texts.set(from, (texts.get(from) ?? '') + text)
    }
  }
  const sum = (keys: Iterable<string>, size: (code: string) => number) =>
    [...keys].reduce((all, key) => all + size(codeOf(key)), 0)
  const weighed = {
    files: [...first].map(key => listed[key]!.file),
    minifiedBytes: sum(first, code => Buffer.byteLength(code)),
    gzippedBytes: sum(first, gz),
    withAllPlacesGzippedBytes: sum(scripts, gz),
    shares: [...texts]
      .map(([from, text]) => ({ from, minifiedBytes: Buffer.byteLength(text), gzippedBytes: gz(text) }))
      .sort((a, b) => b.gzippedBytes - a.gzippedBytes),
  }
  return { dir, weighed }
}

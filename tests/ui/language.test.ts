/**
 * One name for one thing: none of the words that src/ui/LANGUAGE.md gave up stands in a text that a person may see, and no entry
 * of a words file is there for nobody. Texts are read from the syntax tree, so comments, types, imports, names of classes and
 * routes do not count. What is put together from parts is seen part by part only.
 */
import { readdirSync, readFileSync } from 'node:fs'
import { dirname, join, normalize } from 'node:path'
import { parseSync } from 'vite'
import { describe, expect, it } from 'vitest'

const ROOT = join(import.meta.dirname, '../../src')
const FILES = readdirSync(ROOT, { recursive: true, encoding: 'utf8' })
  .map(name => name.replaceAll('\\', '/'))
  .filter(name => /\.tsx?$/.test(name))
  .sort()

interface Node {
  type: string
  [part: string]: unknown
}
const isNode = (x: unknown): x is Node => typeof x === 'object' && x !== null && 'type' in x
const children = (node: Node): Node[] =>
  Object.entries(node).flatMap(([key, x]) => (key === 'parent' ? [] : (Array.isArray(x) ? x : [x]).filter(isNode)))

const treeOf = (name: string, source: string): Node => {
  const { program, errors } = parseSync(name, source)
  if (errors.length > 0) throw new Error(`${name}: ${errors[0]?.message}`)
  return program as unknown as Node
}
const TREES = new Map(FILES.map(name => [name, treeOf(name, readFileSync(join(ROOT, name), 'utf8'))]))

const UNSEEN_ATTRIBUTES = /^(class|d|id|href|key|type|name|viewBox|transform|aria-labelledby|inputMode|autoComplete)$/
const isString = (x: unknown): x is Node & { value: string } =>
  isNode(x) && x.type === 'Literal' && typeof x.value === 'string'
/** `a === 'b'`, `case 'b':`, `{ 'b': … }`, types and imports name something; nobody reads them. */
const isName = (node: Node, parent: Node | null): boolean =>
  /^TS(Literal|Union|TypeReference|IndexedAccess|TypeAlias|Interface)/.test(node.type) ||
  node.type === 'ImportDeclaration' ||
  (node.type === 'JSXAttribute' && UNSEEN_ATTRIBUTES.test(String((node.name as Node).name))) ||
  (isString(node) &&
    parent !== null &&
    ((parent.type === 'BinaryExpression' && /^[!=]==$/.test(String(parent.operator))) ||
      (parent.type === 'SwitchCase' && parent.test === node) ||
      (parent.type === 'Property' && parent.key === node && parent.value !== node) ||
      (parent.type === 'MemberExpression' && parent.computed === true)))

/** What a person may see: with a blank or a capital in it, or any word in a file of words; not `hand-out` and its like. */
const isSeen = (text: string, file: string): boolean =>
  /[a-z]{2}/i.test(text) &&
  (/\s|[A-Z]|’/.test(text.trim()) || (/(words|says|phrases)\.ts$/.test(file) && /^[a-z]+$/.test(text.trim())))

function textsOf(file: string, tree: Node): string[] {
  const out: string[] = []
  const visit = (node: Node, parent: Node | null) => {
    if (isName(node, parent)) return
    let text: string | null = null
    if (isString(node)) text = node.value
    else if (node.type === 'JSXText') text = String(node.value)
    else if (node.type === 'TemplateLiteral')
      text = (node.quasis as { value: { cooked: string } }[]).map(q => q.value.cooked).join('…')
    if (text !== null && isSeen(text, file)) out.push(text.replace(/\s+/g, ' ').trim())
    for (const child of children(node)) visit(child, node)
  }
  visit(tree, null)
  return out
}

interface Given {
  say: string
  not: string
  but: string[]
}
const cells = (row: string): string[] =>
  row
    .split('|')
    .slice(1, -1)
    .map(cell => cell.trim())
const phrases = (cell: string): string[] =>
  cell
    .split('·')
    .map(p => p.trim().toLowerCase())
    .filter(Boolean)

/** Each given-up phrase of the table, with what to say for it. */
function givenUp(page: string): Given[] {
  const table = page.split('## One name for one thing')[1] ?? ''
  const rows = table
    .split('\n')
    .filter(line => line.startsWith('|'))
    .slice(2)
  return rows
    .map(cells)
    .flatMap(([say = '', not = '', but = '']) => phrases(not).map(phrase => ({ say, not: phrase, but: phrases(but) })))
}
const GIVEN_UP = givenUp(readFileSync(join(ROOT, 'ui/LANGUAGE.md'), 'utf8'))

const escaped = (text: string) => text.replace(/[.*+?^${}()|[\]\\]/g, '\\$&')
const ANY = new RegExp(`(?<![\\p{L}-])(${GIVEN_UP.map(g => escaped(g.not)).join('|')})(?![\\p{L}])`, 'iu')

/** "ui/sight/words.ts: “Stamp this reading” says “stamp”; say: mark the time" */
function oldWords(file: string, texts: readonly string[]): string[] {
  return texts.flatMap(text => {
    if (!ANY.test(text)) return []
    const low = text.toLowerCase()
    return GIVEN_UP.flatMap(({ say, not, but }) => {
      const rest = but.reduce((left, right) => left.replaceAll(right, ''), low)
      return new RegExp(`(?<![\\p{L}-])${escaped(not)}(?![\\p{L}])`, 'u').test(rest)
        ? [`${file}: “${text.slice(0, 90)}” says “${not}”; say: ${say}`]
        : []
    })
  })
}

/** What is thrown at a programmer. */
const THROWN = /^\w+: must be/
const WITH_CAPITALS = /^(dB|dBi|iOS|kB|iPad|iPhone|kHz|kW)$/
/** Words with a capital after a small letter, as names of the program have. */
const namesIn = (text: string): string[] =>
  (text.match(/\p{L}*\p{Ll}\p{Lu}\p{L}*/gu) ?? []).filter(word => !WITH_CAPITALS.test(word))

describe('the words of the program', () => {
  it('has a table of names to hold them by', () => {
    expect(GIVEN_UP.length).toBeGreaterThan(60)
  })

  it('says none of the words that were given up, in any text of any floor', () => {
    // The command line takes instants and files; its users are programmers.
    const seen = [...TREES].filter(([name]) => !name.startsWith('batch/'))
    expect(seen.flatMap(([name, tree]) => oldWords(name, textsOf(name, tree)))).toEqual([])
  })

  it('has no name of the program in a sentence of a screen: a word with a capital inside is a unit or a platform', () => {
    const sentences = [...TREES]
      .filter(([name]) => name.startsWith('ui/'))
      .flatMap(([name, tree]) =>
        textsOf(name, tree)
          .filter(text => text.includes(' ') && !THROWN.test(text))
          .map(text => ({ name, text })),
      )
    expect(sentences.length).toBeGreaterThan(1000)
    expect(sentences.filter(({ text }) => namesIn(text).length > 0)).toEqual([])
    expect(namesIn('WayToGo to go, 3 dB by iPad, with keepSighting')).toEqual(['WayToGo', 'keepSighting'])
  })

  it('finds an old word in a string, a template and between tags, and passes over names, comments and types', () => {
    const planted = `
      // Stamp it anew.
      import x from './hand out.ts'
      type T = 'hand out' | 'it is so'
      const WORDS = { 'it is so': 1, stamp: 'Stamp this reading', at: (n: number) => \`Bring in \${n} records\` }
      if (kind === 'not so') go('hand-out')
      export const A = () => <p class="hand out" title="Throw away">Hang it on a cord</p>
    `
    expect(oldWords('planted.tsx', textsOf('planted.tsx', treeOf('planted.tsx', planted)))).toEqual([
      'planted.tsx: “Stamp this reading” says “stamp”; say: mark the time',
      'planted.tsx: “Bring in … records” says “bring in”; say: import',
      'planted.tsx: “Throw away” says “throw away”; say: discard',
      'planted.tsx: “Hang it on a cord” says “cord”; say: plumb line',
    ])
  })
})

/** The objects of words of a file that are exported: their name, and the names of their entries. */
function dictionaries(tree: Node): { name: string; keys: string[] }[] {
  return (tree.body as Node[]).flatMap(node => {
    const declared = node.type === 'ExportNamedDeclaration' ? (node.declaration as Node | null) : null
    if (declared?.type !== 'VariableDeclaration') return []
    return (declared.declarations as Node[]).flatMap(d => {
      let value = d.init as Node | null
      while (value?.type === 'TSAsExpression' || value?.type === 'TSSatisfiesExpression')
        value = value.expression as Node
      if (value?.type !== 'ObjectExpression') return []
      const keys = (value.properties as Node[]).flatMap(p =>
        p.type === 'Property' && p.computed !== true
          ? [String((p.key as Node).name ?? (p.key as Node & { value: unknown }).value)]
          : [],
      )
      return [{ name: String((d.id as Node).name), keys }]
    })
  })
}

interface Read {
  keys: Set<string>
  /** Passed on, spread, or read by a name not known here. */
  isWhole: boolean
}

/** What a file reads of each name in it, in one walk. */
function readsOf(tree: Node): Map<string, Read> {
  const reads = new Map<string, Read>()
  const visit = (node: Node, parent: Node | null) => {
    if (/^(Import|TS(TypeQuery|TypeReference|TypeAlias|Interface|IndexedAccess))/.test(node.type)) return
    if (node.type === 'Identifier') read(node, parent)
    for (const child of children(node)) visit(child, node)
  }
  const read = (node: Node, parent: Node | null) => {
    const isDeclared = parent?.type === 'VariableDeclarator' && parent.id === node
    const isKey =
      (parent?.type === 'Property' && parent.key === node && parent.value !== node) ||
      (parent?.type === 'MemberExpression' && parent.property === node && parent.computed !== true)
    if (isDeclared || isKey) return
    const name = String(node.name)
    const of = reads.get(name) ?? { keys: new Set(), isWhole: false }
    reads.set(name, of)
    const property = parent?.type === 'MemberExpression' && parent.object === node ? (parent.property as Node) : null
    if (property !== null && parent?.computed !== true) of.keys.add(String(property.name))
    else if (isString(property)) of.keys.add(property.value)
    else of.isWhole = true
  }
  visit(tree, null)
  return reads
}

/** "ui/clock/words.ts: CLOCK.kept" */
function deadEntries(trees: ReadonlyMap<string, Node>): string[] {
  const reads = new Map([...trees].map(([file, tree]) => [file, readsOf(tree)]))
  // Who imports what from where, and what it is called there.
  const importers = new Map<string, Read[]>()
  for (const [file, tree] of trees)
    for (const node of tree.body as Node[]) {
      if (node.type !== 'ImportDeclaration') continue
      const from = normalize(join(dirname(file), (node.source as Node & { value: string }).value))
      for (const s of node.specifiers as Node[]) {
        const read = reads.get(file)?.get(String((s.local as Node).name))
        const of = `${from} ${(s.imported as Node | undefined)?.name}`
        if (read) importers.set(of, [...(importers.get(of) ?? []), read])
      }
    }
  return [...trees].flatMap(([file, tree]) => {
    if (!/(words|phrases|ways)\.ts$/.test(file)) return []
    return dictionaries(tree).flatMap(({ name, keys }) => {
      const own = reads.get(file)?.get(name)
      const all = [...(own ? [own] : []), ...(importers.get(`${file} ${name}`) ?? [])]
      if (all.some(read => read.isWhole)) return []
      return keys.filter(key => !all.some(read => read.keys.has(key))).map(key => `${file}: ${name}.${key}`)
    })
  })
}

describe('the files of words', () => {
  it('have no entry that nothing reads', () => {
    expect(deadEntries(TREES)).toEqual([])
  })

  it('would show one: read by name is alive, by a name not known makes all alive', () => {
    const words = `export const A = { used: 'x', dead: 'y' } as const
      export const B = { one: 'x', two: 'y' } as const`
    const reader = `import { A, B } from './words.ts'
      export const c = (k: keyof typeof B) => A.used + B[k]`
    const trees = new Map([
      ['words.ts', treeOf('words.ts', words)],
      ['reader.ts', treeOf('reader.ts', reader)],
    ])
    expect(deadEntries(trees)).toEqual(['words.ts: A.dead'])
  })
})

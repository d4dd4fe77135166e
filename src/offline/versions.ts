/**
 * The versions of the program on this phone: each in a cache of its own, named by the path that it is served under, so
 * that two installations on one origin leave each other alone. Beside them a small cache of facts, one entry each: the
 * list of a complete version, when a version last drew its first screen, how often it did not.
 */
import type { ProgramPart } from './parts.ts'

export interface Version {
  id: string
  parts: readonly ProgramPart[]
  /** Name of its cache. */
  cache: string
}

export interface Versions {
  /** The version of that list, whether it lies here or not. */
  of(parts: readonly ProgramPart[]): Version
  address(url: string): string
  /** The complete ones, in no order. */
  all(): Promise<Version[]>
  keptWhole(version: Version): Promise<void>
  started(version: Version): Promise<void>
  /** The latest one that has drawn its first screen, `but` left out. */
  lastGood(but: Version): Promise<Version | null>
  failures(version: Version): Promise<number>
  failed(version: Version): Promise<void>
  forgive(version: Version): Promise<void>
  /** Marks a version that is being fetched: it is not cleared away before it has taken over. */
  expect(version: Version | null): Promise<void>
  /** Clears away every cache of this installation but those of `keep` and the one on its way. */
  clear(keep: readonly Version[]): Promise<void>
}

/** FNV-1a, 32 bits: tells versions apart, protects nothing. */
function fingerprint(text: string): string {
  let hash = 0x811c9dc5
  for (let i = 0; i < text.length; i++) hash = Math.imul(hash ^ text.charCodeAt(i), 0x01000193)
  return (hash >>> 0).toString(16).padStart(8, '0')
}

/** Earlier releases named their caches without the path. */
const EARLIER = /^moonplumb-[0-9a-f]{8}$/

/** @param scope  the service worker's scope, an address that ends in "/" */
export function versionsAt(scope: string, storage: CacheStorage = caches, clock: () => number = Date.now): Versions {
  const path = new URL(scope).pathname
  const prefix = `moonplumb-${path}-`
  const isOurs = (name: string) => name.startsWith(prefix) && /^[0-9a-f]{8}$/.test(name.slice(prefix.length))
  const address = (url: string) => new URL(url, scope).href
  const named = (id: string, parts: readonly ProgramPart[]): Version => ({ id, parts, cache: prefix + id })

  // Not called "moonplumb-…": earlier releases delete every cache with such a name.
  const facts = () => storage.open(`facts-of-moonplumb-${path}`)
  const factAt = (kind: string, id = ''): string => address(`facts/${kind}/${id}`)
  const put = async (kind: string, id: string, value: unknown): Promise<void> =>
    (await facts()).put(factAt(kind, id), new Response(JSON.stringify(value)))
  const get = async (kind: string, id = ''): Promise<unknown> => {
    try {
      return await (await (await facts()).match(factAt(kind, id)))?.json()
    } catch {
      return undefined
    }
  }
  const drop = async (kind: string, id = ''): Promise<void> => void (await (await facts()).delete(factAt(kind, id)))

  const all = async (): Promise<Version[]> => {
    const names = await storage.keys()
    const listed = names.filter(isOurs).map(async name => {
      const id = name.slice(prefix.length)
      const parts = await get('list', id)
      return Array.isArray(parts) ? [named(id, parts as ProgramPart[])] : []
    })
    return (await Promise.all(listed)).flat()
  }

  return {
    of: parts => named(fingerprint(JSON.stringify(parts)), parts),
    address,
    all,
    keptWhole: version => put('list', version.id, version.parts),
    started: version => put('started', version.id, clock()),
    async lastGood(but) {
      let best: { version: Version; ms: number } | null = null
      for (const version of await all()) {
        const ms = version.id === but.id ? undefined : await get('started', version.id)
        if (typeof ms === 'number' && (best === null || ms > best.ms)) best = { version, ms }
      }
      return best?.version ?? null
    },
    async failures(version) {
      const count = await get('failed', version.id)
      return typeof count === 'number' ? count : 0
    },
    async failed(version) {
      await put('failed', version.id, (await this.failures(version)) + 1)
    },
    forgive: version => drop('failed', version.id),
    expect: version => (version === null ? drop('expected') : put('expected', '', version.id)),
    async clear(keep) {
      const expected = await get('expected')
      const kept = new Set(keep.map(version => version.cache))
      if (typeof expected === 'string') kept.add(prefix + expected)
      for (const name of await storage.keys()) {
        if (kept.has(name)) continue
        const isEarlier = EARLIER.test(name) && (await (await storage.open(name)).match(address('index.html')))
        if (!isOurs(name) && !isEarlier) continue
        await storage.delete(name)
        const id = name.slice(prefix.length)
        if (isOurs(name)) await Promise.all(['list', 'started', 'failed'].map(kind => drop(kind, id)))
      }
    },
  }
}

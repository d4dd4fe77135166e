/** Cache Storage in memory: as much of it as the second copy uses. `broken` refuses everything, as a full phone does. */
export function memoryCaches(): {
  storage: CacheStorage
  entries: Map<string, string>
  refuse(yes: boolean): void
  /** From now on nothing more is put in, as on a page that is killed there; deleting goes on. */
  refusePuts(): void
} {
  const entries = new Map<string, string>()
  let broken = false
  let isFull = false
  const guard = async <T>(act: () => T): Promise<T> => {
    if (broken) throw new DOMException('no room', 'QuotaExceededError')
    return act()
  }
  const urlOf = (request: RequestInfo | URL): string =>
    typeof request === 'string' || request instanceof URL ? `${request}` : request.url
  const cache = {
    put: async (request: RequestInfo | URL, response: Response) => {
      const text = await response.text()
      if (isFull) throw new DOMException('no room', 'QuotaExceededError')
      return guard(() => void entries.set(urlOf(request), text))
    },
    match: (request: RequestInfo | URL) =>
      guard(() => {
        const text = entries.get(urlOf(request))
        return text === undefined ? undefined : new Response(text)
      }),
    keys: () => guard(() => [...entries.keys()].map(url => new Request(url))),
    delete: (request: RequestInfo | URL) => guard(() => entries.delete(urlOf(request))),
  }
  const storage = { open: async () => cache } as unknown as CacheStorage
  const refusePuts = () => {
    isFull = true
  }
  const refuse = (yes: boolean) => {
    broken = yes
  }
  return { storage, entries, refuse, refusePuts }
}

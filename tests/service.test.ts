import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'

/** A browser with a service worker, as far as service.ts looks at it. */
function browser(options: { controller?: boolean; online?: boolean } = {}) {
  const sent: unknown[] = []
  let reloads = 0
  const events = new EventTarget()
  const registration = Object.assign(new EventTarget(), {
    waiting: null as null | { state: string; postMessage(m: unknown): void },
    installing: null as null | (EventTarget & { state: string }),
    active: null,
    updates: 0,
    async update() {
      registration.updates++
    },
  })
  const serviceWorker = Object.assign(events, {
    controller: options.controller === false ? null : ({} as object | null),
    register: vi.fn(async () => registration),
  })
  const page = Object.assign(new EventTarget(), { visibilityState: 'visible' })
  vi.stubGlobal('navigator', { serviceWorker, onLine: options.online ?? true })
  vi.stubGlobal('document', page)
  vi.stubGlobal('window', new EventTarget())
  vi.stubGlobal('location', { reload: () => reloads++ })
  return {
    registration,
    serviceWorker,
    page,
    sent,
    reloads: () => reloads,
    /** Another worker has taken over this page. */
    takeOver(worker: object | null = {}) {
      serviceWorker.controller = worker
      serviceWorker.dispatchEvent(new Event('controllerchange'))
    },
    /** A new version has been fetched and waits. */
    arrive() {
      const worker = Object.assign(new EventTarget(), {
        state: 'installing',
        postMessage: (m: unknown) => sent.push(m),
      })
      registration.installing = worker
      registration.dispatchEvent(new Event('updatefound'))
      worker.state = 'installed'
      registration.installing = null
      registration.waiting = worker
      worker.dispatchEvent(new Event('statechange'))
    },
  }
}

beforeEach(() => {
  vi.useFakeTimers({ now: 1_000_000_000_000 })
  vi.stubEnv('PROD', true)
  vi.resetModules()
})
afterEach(() => {
  vi.useRealTimers()
  vi.unstubAllGlobals()
  vi.unstubAllEnvs()
})
async function started(options?: Parameters<typeof browser>[0]) {
  const there = browser(options)
  const service = await import('../src/service.ts')
  await service.startService()
  return { ...there, service }
}

describe('a new version', () => {
  it('waits, unasked for, as long as it takes', async () => {
    const { service, arrive, sent, reloads } = await started()
    expect(service.update.value).toBe('none')
    arrive()
    expect(service.update.value).toBe('ready-to-update')
    await vi.advanceTimersByTimeAsync(3_600_000)
    expect([sent, reloads()]).toEqual([[], 0])
  })

  it('is not offered when it is the first one', async () => {
    const { service, arrive } = await started({ controller: false })
    arrive()
    expect(service.update.value).toBe('none')
  })

  it('is not taken during a measurement, even when asked for', async () => {
    const { service, arrive, sent } = await started()
    arrive()
    service.measuring.value = true
    expect(service.applyUpdate()).toBe('measuring')
    expect(sent).toEqual([])
    service.measuring.value = false
    expect(service.applyUpdate()).toBe('updating')
    expect(sent).toEqual(['take-over'])
  })

  it('reloads once when it has taken over, and not again after the fallback time', async () => {
    const { service, arrive, serviceWorker, reloads } = await started()
    arrive()
    service.applyUpdate()
    expect(reloads()).toBe(0)
    serviceWorker.dispatchEvent(new Event('controllerchange'))
    serviceWorker.dispatchEvent(new Event('controllerchange'))
    await vi.advanceTimersByTimeAsync(10_000)
    expect(reloads()).toBe(1)
  })

  it('reloads after 3 s where the browser never says that it took over', async () => {
    const { service, arrive, reloads } = await started()
    arrive()
    service.applyUpdate()
    await vi.advanceTimersByTimeAsync(2_900)
    expect(reloads()).toBe(0)
    await vi.advanceTimersByTimeAsync(200)
    expect(reloads()).toBe(1)
  })

  it('is not offered when its worker is listed as waiting, but is taking over already', async () => {
    const { service, registration, serviceWorker, arrive } = await started({ controller: false })
    arrive()
    const worker = registration.waiting as unknown as EventTarget & { state: string }
    worker.state = 'activating'
    serviceWorker.controller = worker
    worker.dispatchEvent(new Event('statechange'))
    expect(service.update.value).toBe('none')
  })

  it('is not said to have come when the same worker takes the page again, or none does for a while', async () => {
    const { service, serviceWorker, takeOver, reloads } = await started()
    const same = serviceWorker.controller
    takeOver(same)
    takeOver(null)
    takeOver(same)
    expect([service.update.value, reloads()]).toEqual(['none', 0])
    takeOver()
    expect([service.update.value, reloads()]).toEqual(['reload-needed', 0])
  })

  it('taken in another tab is said here, and this page is not reloaded by itself', async () => {
    const { service, takeOver, reloads } = await started()
    takeOver()
    expect([service.update.value, reloads()]).toEqual(['reload-needed', 0])
    expect([service.applyUpdate(), reloads()]).toEqual(['updating', 1])
  })

  it('is looked for at most once an hour, online, visible, and not during a measurement', async () => {
    const { registration, page, service } = await started()
    const back = async () => {
      page.dispatchEvent(new Event('visibilitychange'))
      await vi.advanceTimersByTimeAsync(0)
    }
    await back()
    expect(registration.updates).toBe(0)
    await vi.advanceTimersByTimeAsync(3_600_001)
    await back()
    await back()
    expect(registration.updates).toBe(1)
    await vi.advanceTimersByTimeAsync(3_600_001)
    service.measuring.value = true
    await back()
    page.visibilityState = 'hidden'
    service.measuring.value = false
    await back()
    expect(registration.updates).toBe(1)
    page.visibilityState = 'visible'
    await back()
    expect(registration.updates).toBe(2)
    vi.setSystemTime(0) // the clock was set back: the hour is not waited for for years
    await back()
    expect(registration.updates).toBe(3)
  })
})

describe('a version that the host does not send whole', () => {
  const wrong = [{ url: 'assets/a.js', why: 'status 500' }]
  const tell = (serviceWorker: EventTarget) =>
    serviceWorker.dispatchEvent(Object.assign(new Event('message'), { data: { kind: 'not-whole', faults: wrong } }))

  it('is named, and looked for again after one minute, then two, not after an hour', async () => {
    const { registration, serviceWorker, service } = await started()
    Object.assign(registration, { active: { postMessage() {} } })
    tell(serviceWorker)
    expect(service.refused.value).toEqual(wrong)
    await vi.advanceTimersByTimeAsync(61_000)
    expect(registration.updates).toBe(1)
    tell(serviceWorker)
    await vi.advanceTimersByTimeAsync(61_000)
    expect(registration.updates).toBe(1)
    await vi.advanceTimersByTimeAsync(60_000)
    expect(registration.updates).toBe(2)
  })

  it('is not waited for by a timer while the page is hidden', async () => {
    const { serviceWorker, page } = await started()
    tell(serviceWorker)
    page.visibilityState = 'hidden'
    page.dispatchEvent(new Event('visibilitychange'))
    expect(vi.getTimerCount()).toBe(0)
  })

  it('is registered again where it was the first one, whose registration went with it', async () => {
    const { registration, serviceWorker } = await started({ controller: false })
    tell(serviceWorker)
    await vi.advanceTimersByTimeAsync(61_000)
    expect([registration.updates, serviceWorker.register.mock.calls.length]).toEqual([0, 2])
  })

  /** A worker that another page had begun to install, or this one before it listened. */
  async function startedDuring() {
    const there = browser({ controller: false })
    const worker = Object.assign(new EventTarget(), { state: 'installing' })
    there.registration.installing = worker
    const service = await import('../src/service.ts')
    await service.startService()
    const fail = () => {
      worker.state = 'redundant'
      there.registration.installing = null
      worker.dispatchEvent(new Event('statechange'))
    }
    return { ...there, service, fail, worker }
  }

  it('is registered again after a minute where the page came too late to hear what was wrong', async () => {
    const { serviceWorker, fail } = await startedDuring()
    fail()
    await vi.advanceTimersByTimeAsync(62_000)
    expect(serviceWorker.register).toHaveBeenCalledTimes(2)
  })

  it('is counted once where it says what was wrong and its worker ends', async () => {
    const { serviceWorker, fail, service } = await startedDuring()
    tell(serviceWorker)
    fail()
    await vi.advanceTimersByTimeAsync(61_000)
    expect(serviceWorker.register).toHaveBeenCalledTimes(2)
    expect(service.refused.value).toEqual(wrong)
  })

  it('is not meant when a worker ends that was fetched whole: another has taken its place', async () => {
    const { serviceWorker, fail, worker } = await startedDuring()
    worker.state = 'installed'
    worker.dispatchEvent(new Event('statechange'))
    fail()
    await vi.advanceTimersByTimeAsync(300_000)
    expect(serviceWorker.register).toHaveBeenCalledTimes(1)
  })

  it('is looked for also when the timer ends a moment before the clock says so', async () => {
    const { registration, serviceWorker } = await started()
    Object.assign(registration, { active: { postMessage() {} } })
    tell(serviceWorker)
    vi.setSystemTime(Date.now() - 2)
    await vi.advanceTimersByTimeAsync(61_000)
    expect(registration.updates).toBe(1)
  })

  it('is forgotten when it has come', async () => {
    const { arrive, serviceWorker, service } = await started()
    tell(serviceWorker)
    arrive()
    expect([service.refused.value, service.update.value]).toEqual([[], 'ready-to-update'])
  })
})

describe('a host that answers for the service worker itself with a page', () => {
  const page = () => new Response('<!doctype html>', { headers: { 'content-type': 'text/html' } })
  it('is named, and asked again; the phone is not blamed', async () => {
    const { serviceWorker } = browser({ controller: false })
    serviceWorker.register.mockRejectedValueOnce(new DOMException('type', 'SecurityError'))
    vi.stubGlobal('fetch', async () => page())
    const service = await import('../src/service.ts')
    await service.startService()
    expect(service.offlineState.value).toEqual({ kind: 'unknown' })
    expect(service.refused.value).toEqual([{ url: 'sw.js', why: 'text/html instead of text/javascript' }])
    await vi.advanceTimersByTimeAsync(61_000)
    expect(serviceWorker.register).toHaveBeenCalledTimes(2)
  })

  it("is not blamed where the browser allows no service worker: 'absent'", async () => {
    const { serviceWorker } = browser({ controller: false })
    serviceWorker.register.mockRejectedValueOnce(new DOMException('insecure', 'SecurityError'))
    vi.stubGlobal('fetch', async () => new Response('', { headers: { 'content-type': 'text/javascript' } }))
    const service = await import('../src/service.ts')
    await service.startService()
    expect(service.offlineState.value).toEqual({ kind: 'absent' })
    expect(service.refused.value).toEqual([])
  })
})

describe('a page that loads while the service worker becomes active', () => {
  const sentBy = async (controller: boolean) => {
    const sent: unknown[] = []
    const { registration } = browser({ controller })
    Object.assign(registration, { active: { postMessage: (m: { kind: string }) => sent.push(m.kind) } })
    const service = await import('../src/service.ts')
    void service.startService()
    await vi.advanceTimersByTimeAsync(0)
    return sent
  }
  it('asks to be served by it; one that is served does not', async () => {
    expect(await sentBy(false)).toContain('claim')
    vi.resetModules()
    expect(await sentBy(true)).not.toContain('claim')
  })
})

describe('the parts of this version', () => {
  const answering = (answers: unknown[], asked: string[]) => ({
    postMessage({ kind }: { kind: string }, [port]: MessagePort[]) {
      asked.push(kind)
      port?.postMessage(answers.shift())
    },
  })
  const looked = (faults: unknown[], fellBack = false) => ({ parts: 2, urls: ['a.js', 'b.js'], faults, fellBack })
  const bad = { url: 'b.js', state: 'damaged', why: '' }

  it('that are damaged are fetched again at the start, and said until they are', async () => {
    vi.useRealTimers()
    const asked: string[] = []
    const there = browser()
    Object.assign(there.registration, { active: answering([looked([bad]), looked([]), looked([])], asked) })
    const service = await import('../src/service.ts')
    await service.startService()
    expect(asked).toEqual(['look', 'repair', 'look'])
    expect(service.offlineState.value).toMatchObject({ kind: 'complete', parts: 2 })
  })

  it('are only looked at without a network, and the one that is damaged is named', async () => {
    vi.useRealTimers()
    const asked: string[] = []
    const there = browser({ online: false })
    Object.assign(there.registration, { active: answering([looked([bad], true)], asked) })
    const service = await import('../src/service.ts')
    await service.startService()
    expect(asked).toEqual(['look'])
    expect(service.offlineState.value).toMatchObject({ kind: 'incomplete', missing: [], damaged: ['b.js'] })
    expect(service.fellBack.value).toBe(true)
  })

  it('are said as the last question found them, though an earlier answer comes later', async () => {
    vi.useRealTimers()
    const ports: MessagePort[] = []
    const there = browser({ online: false })
    Object.assign(there.registration, { active: answering([looked([])], []) })
    const service = await import('../src/service.ts')
    await service.startService()
    Object.assign(there.registration, {
      active: { postMessage: (_: unknown, [port]: MessagePort[]) => void ports.push(port!) },
    })
    const [first, second] = [service.checkOffline(), service.checkOffline()]
    ports[1]!.postMessage(looked([bad]))
    expect(await second).toMatchObject({ kind: 'incomplete' })
    ports[0]!.postMessage(looked([]))
    expect(await first).toMatchObject({ kind: 'incomplete', damaged: ['b.js'] })
    expect(service.offlineState.value).toMatchObject({ kind: 'incomplete' })
  })
})

describe('without a service worker', () => {
  it("is 'absent', and asking for an update does nothing", async () => {
    vi.stubGlobal('navigator', {})
    const service = await import('../src/service.ts')
    await service.startService()
    expect(service.offlineState.value).toEqual({ kind: 'absent' })
    expect(service.applyUpdate()).toBe('nothing')
  })
})

/**
 * As much of a W3C WebDriver client as the tests need: commands are plain HTTP.
 * Source: WebDriver, W3C Recommendation; the numbers of the sections are those of the Second Edition.
 */

/** How an element is named in JSON (section 12.1). */
const ELEMENT = 'element-6066-11e4-a52e-4f735466cecf'

export type WebDriver = Awaited<ReturnType<typeof newSession>>

/** @param capabilities  what must match (section 7.2) */
export async function newSession(server: string, capabilities: object) {
  const send = async (method: 'GET' | 'POST' | 'DELETE', path: string, body?: object) => {
    const answer = await fetch(server + path, { method, ...(body && { body: JSON.stringify(body) }) })
    const { value } = (await answer.json()) as { value: unknown }
    if (!answer.ok) {
      const { error, message } = value as { error: string; message: string }
      throw new Error(`${method} ${path}: ${error}: ${message}`)
    }
    return value
  }
  const { sessionId } = (await send('POST', '/session', { capabilities: { alwaysMatch: capabilities } })) as {
    sessionId: string
  }
  const session = `/session/${sessionId}`
  await send('POST', `${session}/timeouts`, { script: 120_000, pageLoad: 60_000 })

  /** Runs in the page, and waits for what it promises. */
  const run = async (fn: (...args: never[]) => unknown, args: readonly unknown[]): Promise<unknown> => {
    const script = `const done = arguments[arguments.length - 1];
      Promise.resolve().then(() => (${fn})(...Array.prototype.slice.call(arguments, 0, -1))).then(
        value => done({ value: value === undefined ? null : value }),
        error => done({ error: String(error) + ' ' + (error && error.stack) }))`
    const answer = (await send('POST', `${session}/execute/async`, { script, args })) as {
      value: unknown
      error?: string
    }
    if (answer.error !== undefined) throw new Error(answer.error)
    return answer.value
  }
  return {
    go: (url: string) => send('POST', `${session}/url`, { url }),
    run,
    /** The element that `fn` answers, as the path of its commands. */
    async element(fn: (...args: never[]) => unknown, args: readonly unknown[]): Promise<string | null> {
      const found = (await run(fn, args)) as Record<string, string> | null
      return found === null ? null : `${session}/element/${found[ELEMENT]}`
    },
    click: (element: string) => send('POST', `${element}/click`, {}),
    clear: (element: string) => send('POST', `${element}/clear`, {}),
    type: (element: string, text: string) => send('POST', `${element}/value`, { text }),
    picture: async () => Buffer.from((await send('GET', `${session}/screenshot`)) as string, 'base64'),
    end: () => send('DELETE', session),
  }
}

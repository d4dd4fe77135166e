/**
 * Trusted Types, where the browser has them: the page's policy (index.html) lets no text become a script, and the
 * address of a worker only if it lies under the program's own folder. Import it before anything that starts a worker.
 */
interface Factory {
  createPolicy(name: string, rules: { createScriptURL(address: string): string }): unknown
}

const own = (): string => new URL('./', document.baseURI).href

/** The default policy: one of another name would have to be passed to where the workers are started, the default applies by itself. */
export function trustOwnScripts(factory: Factory | undefined): void {
  factory?.createPolicy('default', {
    createScriptURL(address) {
      if (!new URL(address, document.baseURI).href.startsWith(own())) throw new TypeError(`not ours: ${address}`)
      return address
    },
  })
}

trustOwnScripts((globalThis as { trustedTypes?: Factory }).trustedTypes)

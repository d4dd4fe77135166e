/** A static server that a test can stop and start again at the same address. Also finds free ports. */
import { readFileSync, statSync } from 'node:fs'
import { createServer } from 'node:http'
import { extname, join, normalize } from 'node:path'

const TYPES = {
  '.css': 'text/css',
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript',
  '.json': 'application/json',
  '.png': 'image/png',
  '.svg': 'image/svg+xml',
  '.txt': 'text/plain; charset=utf-8',
  '.webmanifest': 'application/manifest+json',
  '.woff2': 'font/woff2',
}

/**
 * @param source  a folder, or a map of path → text, or path → what makes the text of the address
 * @param port    0: any free one
 */
export async function serve(source, port = 0) {
  /** Files as they were read last, since a page asks for some thirty. */
  const read = new Map()
  const bytesOf = file => {
    const stat = statSync(file, { throwIfNoEntry: false })
    if (!stat?.isFile()) return null
    const before = read.get(file)
    if (before?.mtimeMs === stat.mtimeMs && before.bytes.length === stat.size) return before.bytes
    const bytes = readFileSync(file)
    read.set(file, { mtimeMs: stat.mtimeMs, bytes })
    return bytes
  }
  const server = createServer((request, response) => {
    const url = new URL(request.url ?? '/', 'http://localhost')
    const { pathname } = url
    const path = decodeURIComponent(pathname.endsWith('/') ? `${pathname}index.html` : pathname)
    const type = TYPES[extname(path)] ?? 'application/octet-stream'
    const headers = { 'content-type': type, 'cache-control': 'no-cache' }
    if (source instanceof Map) {
      const kept = source.get(path)
      const text = typeof kept === 'function' ? kept(url) : kept
      response.writeHead(text === undefined ? 404 : 200, headers).end(text)
      return
    }
    const file = join(source, normalize(path))
    const bytes = file.startsWith(source) ? bytesOf(file) : null
    if (bytes === null) response.writeHead(404).end()
    else response.writeHead(200, { ...headers, 'content-length': bytes.length }).end(bytes)
  })
  await new Promise((resolve, reject) => {
    server.once('error', reject)
    server.listen(port, 'localhost', () => resolve(undefined))
  })
  const address = server.address()
  const used = typeof address === 'object' && address ? address.port : port
  return {
    port: used,
    url: `http://localhost:${used}/`,
    stop: () =>
      new Promise(resolve => {
        server.close(() => resolve(undefined))
        server.closeAllConnections()
      }),
  }
}

export async function freePort() {
  const server = await serve(new Map())
  await server.stop()
  return server.port
}

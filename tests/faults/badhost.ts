/**
 * A static host that answers wrongly on demand, as hosts, networks and half-finished deployments do: for every
 * address or for one, and to change its mind at any time.
 */
import { existsSync, readFileSync, statSync } from 'node:fs'
import { createServer, type ServerResponse } from 'node:http'
import { extname, join } from 'node:path'

export const WRONG = {
  index: 'the shell with status 200, as hosts with a fallback do',
  '500': 'status 500 with a page',
  '404': 'status 404 with a page',
  short: 'the connection ends half-way',
  cut: 'half of the file, with the length of that half',
  other: 'as many bytes of the right type, but others',
  redirect: 'a redirect to a page of this host',
  away: 'a redirect to another host',
  hang: 'no answer at all',
  stall: 'half of the file, then nothing',
} as const
export type Wrong = keyof typeof WRONG
export type Answer = 'good' | Wrong

const TYPES: Readonly<Record<string, string>> = {
  '.css': 'text/css',
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript',
  '.json': 'application/json',
  '.png': 'image/png',
  '.svg': 'image/svg+xml',
  '.webmanifest': 'application/manifest+json',
  '.woff2': 'font/woff2',
}
const PAGE = '<!doctype html><title>Sign in</title><p>Sign in to use this network.'

export interface BadHost {
  url: string
  /** From where it serves. */
  folder: string
  /** How it answers an address, relative to its root; "" is the root itself. */
  answer: (path: string) => Answer
  /** Addresses asked for since the last look. */
  asked: string[]
  stop(): Promise<void>
}

export async function badHost(folder: string, port = 0): Promise<BadHost> {
  const good = (): Answer => 'good'
  const host: BadHost = { url: '', folder, answer: good, asked: [], stop: async () => {} }
  const server = createServer((request, response) => {
    const path = decodeURIComponent(new URL(request.url ?? '/', 'http://localhost').pathname.slice(1))
    host.asked.push(path)
    if (path === 'login.html') return page(response, 200)
    const file = join(host.folder, path === '' || path.endsWith('/') ? `${path}index.html` : path)
    const there = existsSync(file) && statSync(file).isFile()
    const bytes = there ? readFileSync(file) : Buffer.from('not here')
    const headers = {
      'content-type': TYPES[extname(file)] ?? 'application/octet-stream',
      // As many hosts do for names that carry a hash, also around a wrong answer.
      'cache-control': path.includes('assets/') ? 'public, max-age=31536000, immutable' : 'no-cache',
    }
    switch (host.answer(path)) {
      case 'good':
        if (!there) return page(response, 404)
        response.writeHead(200, { ...headers, 'content-length': bytes.length }).end(bytes)
        return
      case 'index':
        response
          .writeHead(200, { ...headers, 'content-type': 'text/html; charset=utf-8' })
          .end(readFileSync(join(host.folder, 'index.html')))
        return
      case '500':
        return page(response, 500)
      case '404':
        return page(response, 404)
      case 'short':
        response.writeHead(200, { ...headers, 'content-length': bytes.length })
        response.write(bytes.subarray(0, bytes.length >> 1), () => response.destroy())
        return
      case 'cut':
        response
          .writeHead(200, { ...headers, 'content-length': bytes.length >> 1 })
          .end(bytes.subarray(0, bytes.length >> 1))
        return
      case 'other':
        response.writeHead(200, { ...headers, 'content-length': bytes.length }).end(Buffer.alloc(bytes.length, ' '))
        return
      case 'redirect':
        response.writeHead(302, { location: '/login.html' }).end()
        return
      case 'away':
        response.writeHead(302, { location: 'http://sign-in.invalid/' }).end()
        return
      case 'hang':
        return
      case 'stall':
        response.writeHead(200, { ...headers, 'content-length': bytes.length })
        response.write(bytes.subarray(0, bytes.length >> 1))
    }
  })
  await new Promise<void>((resolve, reject) => {
    server.once('error', reject)
    server.listen(port, 'localhost', () => resolve())
  })
  const address = server.address()
  host.url = `http://localhost:${typeof address === 'object' && address ? address.port : port}/`
  host.stop = () =>
    new Promise(resolve => {
      server.close(() => resolve())
      server.closeAllConnections()
    })
  return host
}

function page(response: ServerResponse, status: number): void {
  response.writeHead(status, { 'content-type': 'text/html', 'cache-control': 'no-cache' }).end(PAGE)
}

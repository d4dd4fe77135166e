import { afterEach, describe, expect, it, vi } from 'vitest'
import { canDownload, canShare, copyText, downloadFile, shareFile, textFile } from '../../src/device/share.ts'

const browser = (navigator: object) => vi.stubGlobal('navigator', navigator)
afterEach(() => {
  vi.unstubAllGlobals()
})

describe('textFile', () => {
  it('goes by the ending that its receiver goes by; anything else is text', () => {
    const made = ['table.csv', 'moon.ICS', 'notes.txt', 'book.json'].map(name => textFile(name, 'x'))
    expect(made.map(f => [f.name, f.type])).toEqual([
      ['table.csv', 'text/csv'],
      ['moon.ICS', 'text/calendar'],
      ['notes.txt', 'text/plain'],
      ['book.json.txt', 'text/plain'],
    ])
  })
})

describe('shareFile', () => {
  const file = textFile('book.txt', 'x')
  it('is the person’s choice or the browser’s refusal, and told apart', async () => {
    const ends = async (end: () => Promise<void>) => {
      browser({ canShare: () => true, share: end })
      return shareFile(file)
    }
    expect(await ends(async () => {})).toBe('shared')
    expect(await ends(() => Promise.reject(new DOMException('', 'AbortError')))).toBe('cancelled')
    expect(await ends(() => Promise.reject(new DOMException('', 'NotAllowedError')))).toBe('refused')
  })

  it('is not tried where files are not taken', async () => {
    const share = vi.fn()
    for (const navigator of [{}, { share }, { share, canShare: () => false }]) {
      browser(navigator)
      expect(canShare(file)).toBe(false)
      expect(await shareFile(file)).toBe('refused')
    }
    expect(share).not.toHaveBeenCalled()
  })
})

it('a text is copied, or the browser refuses it or has no clipboard', async () => {
  const writeText = vi.fn(async (_: string) => {})
  browser({ clipboard: { writeText } })
  expect(await copyText('heading 3°')).toBe('copied')
  expect(writeText).toHaveBeenCalledWith('heading 3°')
  browser({})
  expect(await copyText('x')).toBe('refused')
})

it('nothing is downloaded from the home screen of iOS', () => {
  browser({ standalone: true })
  expect(canDownload()).toBe(false)
  expect(downloadFile(textFile('book.txt', 'x'))).toBe('refused')
  browser({ standalone: false })
  expect(canDownload()).toBe(true)
})

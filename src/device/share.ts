/**
 * Handing a text to another program: share sheet, clipboard, download. JSON goes as .txt, since Chromium refuses to share
 * .json (and .ics, which is saved there); and it is made before the tap, since sharing must follow the tap at once.
 */

/** Media types by ending: the receiving program goes by them. */
const KINDS: Readonly<Record<string, string>> = { txt: 'text/plain', csv: 'text/csv', ics: 'text/calendar' }

/** Ready before the tap. @param name  file name; gets .txt if it has none of these endings */
export function textFile(name: string, text: string): File {
  const ending = /\.(txt|csv|ics)$/i.exec(name)?.[1]?.toLowerCase()
  return new File([text], ending ? name : `${name}.txt`, { type: KINDS[ending ?? 'txt']! })
}

export function canShare(file: File): boolean {
  try {
    return typeof navigator.share === 'function' && navigator.canShare?.({ files: [file] }) === true
  } catch {
    return false
  }
}

/** Inside the tap. 'cancelled' is the person's choice, not a failure. */
export async function shareFile(file: File): Promise<'shared' | 'cancelled' | 'refused'> {
  if (!canShare(file)) return 'refused'
  try {
    await navigator.share({ files: [file], title: file.name })
    return 'shared'
  } catch (error) {
    return (error as Error).name === 'AbortError' ? 'cancelled' : 'refused'
  }
}

/** Inside the tap. Works everywhere, so it is the way when nothing else does. */
export async function copyText(text: string): Promise<'copied' | 'refused'> {
  try {
    await navigator.clipboard.writeText(text)
    return 'copied'
  } catch {
    return 'refused'
  }
}

/** Running from the iOS home screen. Only Apple's browsers have this property. */
const isIosStandalone = (): boolean => (navigator as { standalone?: boolean }).standalone === true

/** From the home screen of iOS a download does nothing, or shows the file with no way back: it is not tried there. */
export const canDownload = (): boolean => !isIosStandalone()

export function downloadFile(file: File): 'started' | 'refused' {
  if (!canDownload()) return 'refused'
  const url = URL.createObjectURL(file)
  const link = document.createElement('a')
  link.href = url
  link.download = file.name
  document.body.append(link)
  link.click()
  link.remove()
  setTimeout(() => URL.revokeObjectURL(url), 60_000) // Safari reads it late
  return 'started'
}

/**
 * The themes by name, and what has to change outside the page's own styles: the attribute on <html> and the colour that
 * the phone paints its status bar with.
 */
type Theme = 'daylight' | 'dusk' | 'night'
/** The papers of tokens.css; a test keeps the two together. */
export const THEME_PAPER: Readonly<Record<Theme, string>> = { daylight: '#ffffff', dusk: '#10161c', night: '#000000' }

/** @param theme null: as the system prefers, daylight or dusk */
export function wearTheme(theme: Theme | null, page: Document): void {
  if (theme === null) page.documentElement.removeAttribute('data-theme')
  else page.documentElement.setAttribute('data-theme', theme)
  const dark = page.defaultView?.matchMedia('(prefers-color-scheme: dark)').matches ?? false
  let meta = page.querySelector<HTMLMetaElement>('meta[name="theme-color"]')
  if (!meta) {
    meta = page.createElement('meta')
    meta.name = 'theme-color'
    page.head.append(meta)
  }
  meta.content = THEME_PAPER[theme ?? (dark ? 'dusk' : 'daylight')]
}

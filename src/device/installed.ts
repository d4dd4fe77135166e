/** Whether the page runs as an app of its own. On iOS an app and a tab do not share their data. */

/** 'ios-tab': a tab of an Apple phone, whose data does not follow when the app is installed. */
export type Installed = 'installed' | 'ios-tab' | 'tab'

interface InstallFacts {
  /** Only Apple's browsers have it at all. */
  standalone: boolean | undefined
  displayMode: boolean
  touch: boolean
}

export function installedFrom({ standalone, displayMode, touch }: InstallFacts): Installed {
  if (standalone === true || displayMode) return 'installed'
  // Safari on a Mac has the property too, but no touch screen, and keeps the data of a tab.
  return standalone === false && touch ? 'ios-tab' : 'tab'
}

export const installed = (): Installed =>
  installedFrom({
    standalone: (navigator as { standalone?: boolean }).standalone,
    displayMode: matchMedia('(display-mode: standalone), (display-mode: fullscreen)').matches,
    touch: navigator.maxTouchPoints > 1,
  })

/** The phone of all walks, and of a second one beside it. */
export const HANDSET = {
  viewport: { width: 390, height: 844 },
  deviceScaleFactor: 1, // drawn without a graphics card: a fourth of the pixels
  isMobile: true,
  hasTouch: true,
  locale: 'en-GB',
  timezoneId: 'UTC',
  // Installing the build in a service worker for every test costs seconds; the service worker has tests of its own.
  serviceWorkers: 'block',
} as const

/** With an offset feed: what is off, and why. Not among the phrases, which are on the first screen. */

export const OFFSET_FED = {
  why: {
    shadow: 'Off for an offset feed: it stands outside the beam, so its shadow does not show where the beam points.',
    rim: 'Off for an offset feed: the rim is not equally far from the focus all round, so its distances do not centre the feed.',
    feed: 'Off for an offset feed: without a shadow, the place of the feed in millimetres cannot be separated from the aim.',
  },
  beam: 'Peak the feed and the aim on the Sun’s signal: sightings, scans and noise work as with any dish.',
  instead: 'Sight the Sun by its signal',
  row: 'off: offset feed',
} as const

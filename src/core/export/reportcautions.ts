/** The cautions at the mount, for any reader of the report, on paper or on the screen. */
export const REPORT_CAUTIONS: readonly string[] = [
  'A dish pointed at the Sun burns what is at the feed. Transmitter off while anybody is in front of the dish.',
  'Jacks move without warning: mains off before hands go near. Prop or tie the dish before a bolt is loosened.',
  'No climbing in wind or thunder.',
]

/** Words of the first screen for what a solution means. */
export const ANSWER = {
  allAsideWhy: 'Look under Correct, “What looks wrong”, and at each sighting in the list.',
  noneCountsWhy: 'Under Sight, open one and let it count again.',
  align: 'Align the mount, step by step',
  noSightingsWhy:
    'One sighting of the Sun shows more than an hour of measuring: drive to it, peak on it, mark the time.',
  scatter: (rms: string) => `The sightings themselves scatter by ${rms}.`,
  from: (used: string, aside: number) => `From ${used}${aside === 0 ? '' : `, ${aside} set aside`}.`,
  restsOn: 'What this is based on',
} as const

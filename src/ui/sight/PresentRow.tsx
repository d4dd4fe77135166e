/** Where the axes are, as last said; leads to where it is said again. */
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { presentHere } from '../../state/drive.ts'
import { go } from '../kit/navigation.ts'
import { RowButton } from '../kit/numbers.tsx'
import { readingText } from '../kit/readings.ts'
import { DRIVE } from './drivewords.ts'

export function PresentRow({ station }: { station: StationRecord }) {
  const { mount } = station
  const present = presentHere(station)
  const toAxes = () => go('sight', 'axes')
  if (present === null) return <RowButton label={DRIVE.presentNone} value={DRIVE.presentValue} onPress={toAxes} />
  const [lower, upper] = [readingText(mount, 'lower', present.lower), readingText(mount, 'upper', present.upper)]
  return <RowButton label={DRIVE.present(lower, upper)} value={DRIVE.change} onPress={toAxes} />
}

/** What the screens of noise records share: their frame. */
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { Action } from '../kit/buttons.tsx'
import { DemoMark } from '../kit/DemoMark.tsx'
import { go } from '../kit/navigation.ts'
import { Sentence } from '../kit/numbers.tsx'
import { PlaceFrame, type StationFrameProps } from '../kit/PlaceFrame.tsx'
import { WAYS } from '../kit/ways.ts'
import { NOISE } from './words.ts'

export function NoiseFrame({ station, children, ...frame }: StationFrameProps) {
  return (
    <PlaceFrame present="sight" {...frame}>
      <DemoMark station={station} />
      {children}
    </PlaceFrame>
  )
}

export function NoiseGone({ station }: { station: StationRecord }) {
  return (
    <NoiseFrame
      station={station}
      title={WAYS.noise}
      action={<Action onPress={() => go('sight', 'noise')}>{NOISE.back}</Action>}
    >
      <Sentence>{NOISE.gone}</Sentence>
    </NoiseFrame>
  )
}

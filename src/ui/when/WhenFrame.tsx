/** The frame of every screen of "When": it stands under Now. */
import { DemoMark } from '../kit/DemoMark.tsx'
import { PlaceFrame, type StationFrameProps } from '../kit/PlaceFrame.tsx'

export function WhenFrame({ station, children, ...frame }: StationFrameProps) {
  return (
    <PlaceFrame present="now" {...frame}>
      <DemoMark station={station} />
      {children}
    </PlaceFrame>
  )
}

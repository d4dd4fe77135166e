/** What the screens of the noon check and of the check after a storm share: their frame, the cautions, the feed, the face. */
import { useState } from 'preact/hooks'
import type { NoonPoseJson } from '../../../core/check/feedjson.ts'
import type { StationRecord } from '../../../core/records/fieldbook.ts'
import { dishAnswer } from '../../../core/tape/measured.ts'
import { Caution } from '../Caution.tsx'
import { Choice } from '../Choice.tsx'
import { DemoMark } from '../DemoMark.tsx'
import { DishFacePlot } from '../DishFacePlot.tsx'
import type { Spot } from '../dishface-geometry.ts'
import { FeedChoice } from '../FeedChoice.tsx'
import { lengthUnit } from '../format.ts'
import { Text } from '../numbers.tsx'
import { PlaceFrame, type StationFrameProps } from '../PlaceFrame.tsx'
import { UnsavedNotice } from '../SavedLine.tsx'
import { SIGHTING } from '../sighting/words.ts'
import { faceReach, isExpected } from './form.ts'
import { rollSays, SHADOW, sunCautions, type View } from './words.ts'

export function SunFrame({ station, children, ...frame }: StationFrameProps) {
  return (
    <PlaceFrame present="sight" {...frame}>
      <UnsavedNotice />
      <DemoMark station={station} />
      {children}
    </PlaceFrame>
  )
}

export function FeedMounted(p: { station: StationRecord; value: string; onPick: (feed: string) => void }) {
  return <FeedChoice {...p} label={SHADOW.feed} long />
}

export function SunCautions({ station }: { station: StationRecord }) {
  return <Caution act="sun" gravest={SHADOW.caution} more={sunCautions(dishAnswer(station), lengthUnit())} />
}

export function ViewChoice({ value, onPick }: { value: View | null; onPick: (view: View) => void }) {
  return (
    <Choice
      label={SIGHTING.view}
      value={value}
      options={[
        { value: 'behind', word: SIGHTING.behind },
        { value: 'front', word: SIGHTING.front },
      ]}
      onPick={onPick}
    />
  )
}

/** The dish's face with the shadow as expected and as seen; the person may tap on it. */
export function Face(p: {
  station: StationRecord
  view: View
  pose: NoonPoseJson | null
  shadow: Spot | null
  onSpot?: (spot: Spot) => void
}) {
  const [whole, setWhole] = useState(false)
  const { diameterM, feedDiameterMm } = p.station.dish
  const edge = p.pose && isExpected(p.pose, p.station.dish) ? p.pose.shadow : null
  return (
    <>
      <DishFacePlot
        face={{
          view: p.view,
          diameterMm: 1000 * diameterM,
          ...(feedDiameterMm !== undefined && { feedDiameterMm }),
          shadow: p.shadow,
          ...(edge && { wanted: edge.centre }),
          ...(edge && feedDiameterMm !== undefined && { edge }),
          rollDeg: p.pose?.rollDeg ?? null,
          reachMm: faceReach(p.station.dish, whole),
          asSeen: true,
          unit: lengthUnit(),
        }}
        {...(p.onSpot && { onSpot: p.onSpot })}
      />
      <Choice
        label={SHADOW.shows}
        value={whole ? 'whole' : 'middle'}
        options={[
          { value: 'middle', word: SHADOW.middle },
          { value: 'whole', word: SHADOW.whole },
        ]}
        onPick={value => setWhole(value === 'whole')}
      />
      {p.pose && <Text>{rollSays(p.pose.rollDeg, p.view)}</Text>}
    </>
  )
}

/** What the screens of the noon check and of the check after a storm share: their frame, the cautions, the choice of time, the face. */

import { useState } from 'preact/hooks'
import type { NoonPoseJson } from '../../core/dish/feedjson.ts'
import { dishAnswer } from '../../core/dish/measured.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { feedHere } from '../../state/chosenfeed.ts'
import { Choice } from '../kit/Choice.tsx'
import { DemoMark } from '../kit/DemoMark.tsx'
import { DishFacePlot } from '../kit/DishFacePlot.tsx'
import type { Spot } from '../kit/dishface-geometry.ts'
import { lengthUnit } from '../kit/format.ts'
import { useKept } from '../kit/keptany.ts'
import { Notice } from '../kit/Notice.tsx'
import { Name, Text } from '../kit/numbers.tsx'
import { PlaceFrame, type StationFrameProps } from '../kit/PlaceFrame.tsx'
import { UnsavedNotice } from '../kit/SavedLine.tsx'
import { SIGHT } from '../sight/words.ts'
import { emptyWish, faceReach, isExpected } from './form.ts'
import { NOON, rollSays, sunCautions, type View } from './words.ts'
import '../correct/correct.css'

export function NoonFrame({ station, children, ...frame }: StationFrameProps) {
  return (
    <PlaceFrame present="sight" {...frame}>
      <UnsavedNotice />
      <DemoMark station={station} />
      {children}
    </PlaceFrame>
  )
}

export const useNoonWish = (station: StationRecord) => useKept(`noon.${station.id}`, () => emptyWish(feedHere(station)))

export function FeedMounted(p: { station: StationRecord; value: string; onPick: (feed: string) => void }) {
  if (p.station.feeds.length < 2) return null
  return (
    <Choice
      label={NOON.feed}
      value={p.value}
      long
      options={p.station.feeds.map(f => ({ value: f.id, word: <Name>{f.name}</Name> }))}
      onPick={p.onPick}
    />
  )
}

export function SunCautions({ station }: { station: StationRecord }) {
  return (
    <Notice state="caution">
      {sunCautions(dishAnswer(station), lengthUnit()).map(text => (
        <p key={text}>{text}</p>
      ))}
    </Notice>
  )
}

export function Standing({ value, onPick }: { value: View | null; onPick: (view: View) => void }) {
  return (
    <Choice
      label={SIGHT.view}
      value={value}
      options={[
        { value: 'behind', word: SIGHT.behind },
        { value: 'front', word: SIGHT.front },
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
        label={NOON.shows}
        value={whole ? 'whole' : 'middle'}
        options={[
          { value: 'middle', word: NOON.middle },
          { value: 'whole', word: NOON.whole },
        ]}
        onPick={value => setWhole(value === 'whole')}
      />
      {p.pose && <Text>{rollSays(p.pose.rollDeg, p.view)}</Text>}
    </>
  )
}

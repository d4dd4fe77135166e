/** Where the shadow fell, on whichever screen it is read: where one stands, the dish's face to tap on, and the same by hand. */
import { useRef } from 'preact/hooks'
import type { NoonPoseJson } from '../../core/dish/feedjson.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { takeStamp } from '../../state/now.ts'
import { shadowMeaning } from '../../state/sightings.ts'
import { isExpected, tapped } from '../noonform.ts'
import { HelpLine } from '../parts/HelpLine.tsx'
import { Sentence, Text } from '../parts/numbers.tsx'
import { shadowOf } from '../sightform.ts'
import { expectedSays, fellSays, NOON } from '../words/noon.ts'
import { shadowSentence } from '../words/sight.ts'
import { ShadowByHand } from './SightMethodFields.tsx'
import { Face, Standing } from './SightNoonParts.tsx'
import type { FieldsProps } from './SightTargetFields.tsx'

/** What was said as seen stays as seen when one goes to the other side: the picture turns, not the words. */
export function ShadowPlace({
  form,
  set,
  station,
  pose,
}: FieldsProps & { station: StationRecord; pose: NoonPoseJson | null }) {
  const taken = useRef<string | null>(null)
  const shadow = shadowOf(form)
  const { view, unit } = form
  const meaning = shadow && shadowSentence(shadowMeaning(station, shadow))
  return (
    <>
      <Standing value={view} onPick={next => set({ view: next })} />
      {view === null ? (
        <Text>{NOON.tapFirst}</Text>
      ) : (
        <>
          <Text>{NOON.tap}</Text>
          {pose && <Text quiet>{expectedSays(pose, view, unit, isExpected(pose, station.dish))}</Text>}
          <Face
            station={station}
            view={view}
            pose={pose}
            shadow={shadow}
            onSpot={spot => {
              const tap = tapped(form, spot, takeStamp().utcMs, taken.current)
              taken.current = tap.taken
              set(tap.change)
            }}
          />
          {shadow && meaning && (
            <div role="status">
              <Text>{fellSays(shadow, view, unit)}</Text>
              <Sentence>
                {meaning.lead}
                <strong>{meaning.off}</strong>
                {meaning.tail}
              </Sentence>
              {view === 'front' && <Text quiet>{NOON.fromBehind}</Text>}
            </div>
          )}
          <HelpLine word={unit === 'mm' ? NOON.orType : NOON.orTypeInch}>
            <ShadowByHand form={form} set={set} />
          </HelpLine>
        </>
      )}
    </>
  )
}

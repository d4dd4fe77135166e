/** Where the shadow fell, on whichever screen it is read: where one stands, the dish's face to tap on, and the same by hand. */
import { useRef } from 'preact/hooks'
import type { NoonPoseJson } from '../../core/dish/feedjson.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { takeStamp } from '../../state/now.ts'
import { shadowMeaning } from '../../state/sightings.ts'
import { HelpLine } from '../kit/HelpLine.tsx'
import { Sentence, Text } from '../kit/numbers.tsx'
import { shadowOf } from '../sight/form.ts'
import { ShadowByHand } from '../sight/SightMethodFields.tsx'
import type { FieldsProps } from '../sight/SightTargetFields.tsx'
import { shadowSentence } from '../sight/words.ts'
import { isExpected, tapped } from './form.ts'
import { Face, Standing } from './SightNoonParts.tsx'
import { expectedSays, fellSays, NOON } from './words.ts'

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

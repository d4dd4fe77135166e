/** Where the shadow fell, on whichever screen it is read: where one stands, the dish's face to tap on, and the same by hand. */
import { useRef } from 'preact/hooks'
import type { NoonPoseJson } from '../../../core/check/feedjson.ts'
import type { StationRecord } from '../../../core/records/fieldbook.ts'
import { takeStamp } from '../../../state/now.ts'
import { shadowMeaning } from '../../../state/sightings.ts'
import { HelpLine } from '../HelpLine.tsx'
import { Sentence, Text } from '../numbers.tsx'
import { shadowOf } from '../sighting/form.ts'
import { ShadowByHand } from '../sighting/MethodFields.tsx'
import type { FieldsProps } from '../sighting/TargetFields.tsx'
import { shadowSentence } from '../sighting/words.ts'
import { isExpected, tapped } from './form.ts'
import { Face, ViewChoice } from './parts.tsx'
import { fellSays, SHADOW, shadowExpectedSays } from './words.ts'

/** When the person changes sides the typed words stay as seen: the picture is mirrored, not the words. */
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
      <ViewChoice value={view} onPick={next => set({ view: next })} />
      {view === null ? (
        <Text>{SHADOW.tapFirst}</Text>
      ) : (
        <>
          <Text>{SHADOW.tap}</Text>
          {pose && <Text quiet>{shadowExpectedSays(pose, view, unit, isExpected(pose, station.dish))}</Text>}
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
              {view === 'front' && <Text quiet>{SHADOW.fromBehind}</Text>}
            </div>
          )}
          <HelpLine word={unit === 'mm' ? SHADOW.orType : SHADOW.orTypeInch}>
            <ShadowByHand form={form} set={set} />
          </HelpLine>
        </>
      )}
    </>
  )
}

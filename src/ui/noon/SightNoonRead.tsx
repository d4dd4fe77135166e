/** Where the feed's shadow really fell: tapped on the dish's face or typed, as seen from there. It becomes a sighting. */
import { useMemo, useState } from 'preact/hooks'
import type { NoonPoseJson } from '../../core/check/feedjson.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { type Told, trueNow } from '../../state/ask.ts'
import { newId } from '../../state/book.ts'
import { feedHere } from '../../state/chosenfeed.ts'
import { noonOf } from '../../state/noon.ts'
import { takeStamp } from '../../state/now.ts'
import { faultsOfSighting, keepSighting } from '../../state/sightings.ts'
import { useAsked } from '../kit/asked.ts'
import { Action, ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { lengthUnit } from '../kit/format.ts'
import { useKeep } from '../kit/keep.tsx'
import { go } from '../kit/navigation.ts'
import { isUnsaved } from '../kit/SavedLine.tsx'
import { FeedMounted, SunCautions, SunFrame } from '../kit/shadow/parts.tsx'
import { ShadowPlace } from '../kit/shadow/ShadowPlace.tsx'
import { emptySightForm, readSightForm } from '../kit/sighting/form.ts'
import { useKeptForm } from '../kit/sighting/keptform.ts'
import { MoreFields } from '../kit/sighting/MoreFields.tsx'
import { ReadingField } from '../kit/sighting/ReadingField.tsx'
import { TimeField } from '../kit/sighting/TargetFields.tsx'
import { missingWords, SIGHTING } from '../kit/sighting/words.ts'
import { typedUtc } from '../kit/utcfield.ts'
import { presentWish, wishedFeed } from './form.ts'
import { useNoon } from './SightNoon.tsx'
import { useNoonWish } from './wish.ts'
import { NOON } from './words.ts'

export function SightNoonRead({ station }: { station: StationRecord }) {
  const [keptWish] = useNoonWish(station)
  const wish = presentWish(keptWish, trueNow.value)
  const kept = `noon.read.${station.id}`
  const [form, set] = useKeptForm(kept, {
    ...emptySightForm(lengthUnit()),
    target: 'sun',
    method: 'shadow',
    feed: wishedFeed(station, wish),
  })
  const [id] = useState(newId)
  const { keep } = useKeep([kept], id)
  const { value: noon } = useNoon(station, wish)
  const read = readSightForm(form, station, { id }, null)
  const text = read.kind === 'whole' ? JSON.stringify(read.record) : ''
  const faults = useMemo(() => (read.kind === 'whole' ? faultsOfSighting(station, read.record) : []), [text, station])
  const asStands = useAsked(read.kind === 'whole' ? `${read.record.utc} ${form.lower} ${form.upper}` : null, () =>
    poseOf(station, read),
  )
  const pose = asStands.value ?? noon?.pose ?? null
  const waits = isUnsaved(id)
  const press = () => {
    if (read.kind !== 'whole') return
    void keep(
      () => keepSighting(station, read.record),
      () => go('sight', 'noon', 'said', id),
    )
  }
  const notNow = waits
    ? SIGHTING.notYetKept
    : read.kind === 'not-yet'
      ? missingWords(station.mount, read.missing)
      : (faults[0]?.rule ?? null)
  const fields = { form, set, station }
  const dial = noon?.pose ?? undefined
  return (
    <SunFrame
      station={station}
      title={NOON.readTitle}
      action={
        <Action notNow={notNow} onPress={press}>
          {NOON.keep}
        </Action>
      }
    >
      <FeedMounted station={station} value={form.feed ?? feedHere(station)} onPick={feed => set({ feed })} />
      <SunCautions station={station} />
      <ShadowPlace {...fields} pose={pose} />
      <ReadingField {...fields} axis="lower" dialled={dial} />
      <ReadingField {...fields} axis="upper" dialled={dial} />
      <TimeField {...fields} onNow={() => set({ utc: typedUtc(new Date(takeStamp().utcMs).toISOString()) })} />
      <MoreFields {...fields} withTime={false} />
      <ButtonRow>
        <SecondaryButton onPress={() => go('sight', 'noon')}>{NOON.done}</SecondaryButton>
      </ButtonRow>
    </SunFrame>
  )
}

/** The pose as it really stood, to say where the shadow was to be expected. */
async function poseOf(
  station: StationRecord,
  read: ReturnType<typeof readSightForm>,
): Promise<Told<NoonPoseJson | null>> {
  if (read.kind !== 'whole') return null
  const { utc, lower, upper, feed } = read.record
  const o = { at: utc, readings: { lower, upper } }
  const noon = await noonOf(station, feed ?? feedHere(station), o, 'noon-as-stands')
  return noon?.kind === 'told' ? { kind: 'told', value: noon.value.pose } : noon
}

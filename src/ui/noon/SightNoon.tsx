/** The noon check: when the Sun crosses, how high, what both axes should read, and where the feed's shadow should fall then. */
import type { NoonCheckJson, NoonPoseJson } from '../../core/check/feedjson.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { instantMs } from '../../core/records/instant.ts'
import { trueNow } from '../../state/ask.ts'
import { noonOf, sunStretches } from '../../state/noon.ts'
import { useAsked, useSolveKey } from '../kit/asked.ts'
import { Action, ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { Choice } from '../kit/Choice.tsx'
import { UtcField } from '../kit/fields.tsx'
import { duration, lengthUnit } from '../kit/format.ts'
import { Notice } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { AxisPair, BigNumber, Text } from '../kit/numbers.tsx'
import { axisName, dialled } from '../kit/phrases.ts'
import { isExpected } from '../kit/shadow/form.ts'
import { Face, FeedMounted, SunCautions, SunFrame } from '../kit/shadow/parts.tsx'
import { shadowExpectedSays } from '../kit/shadow/words.ts'
import { WAYS } from '../kit/ways.ts'
import { inTenMinutes, isPast, type NoonWish, presentWish, wishedFeed, wishedUtc } from './form.ts'
import { useNoonWish } from './wish.ts'
import { blurSays, dialFor, NOON, reachSays, transitSays } from './words.ts'

/** The answer for a wish; asked again every ten minutes, for the day goes on. */
export function useNoon(station: StationRecord, wish: NoonWish) {
  const solveKey = useSolveKey(station)
  const nowMs = Math.floor(trueNow.value / 600_000) * 600_000
  const at = wishedUtc(wish, trueNow.value)
  const feed = wishedFeed(station, wish)
  const key = at === null ? null : `${solveKey} ${nowMs} ${at} ${feed}`
  return useAsked(key, () => noonOf(station, feed, at == null ? {} : { at }, 'noon'))
}

export function SightNoon({ station }: { station: StationRecord }) {
  const [kept, setWish] = useNoonWish(station)
  const wish = presentWish(kept, trueNow.value)
  const { value: noon, asking } = useNoon(station, wish)
  const set = (change: Partial<NoonWish>) => setWish(before => ({ ...before, ...change }))
  const pose = noon?.pose ?? null
  return (
    <SunFrame
      station={station}
      title={WAYS.noon}
      action={<Action onPress={() => go('sight', 'noon', 'read')}>{NOON.read}</Action>}
      side={<Expected station={station} pose={pose} />}
    >
      {noon ? <Crossing noon={noon} /> : <Text quiet>{asking ? NOON.asking : NOON.failed}</Text>}
      {noon && <Dials station={station} noon={noon} counts={wish.when !== 'noon'} />}
      <div class="scan-short">
        <Choice
          label={NOON.when}
          value={wish.when}
          options={[
            { value: 'noon', word: NOON.atNoon },
            { value: 'soon', word: NOON.soon },
            { value: 'other', word: NOON.other },
          ]}
          onPick={when => set({ when, ...(when === 'soon' && { soonUtc: inTenMinutes(trueNow.peek()) }) })}
          hint={noon && reachSays(sunStretches(noon.times))}
        />
      </div>
      {wish.when === 'other' && (
        <UtcField label={NOON.otherTime} text={wish.other} dayMs={trueNow.value} onText={other => set({ other })} />
      )}
      <FeedMounted station={station} value={wishedFeed(station, wish)} onPick={feed => set({ feed })} />
      <SunCautions station={station} />
      <Text quiet>{NOON.lead(station.mount.kind)}</Text>
    </SunFrame>
  )
}

function Crossing({ noon }: { noon: NoonCheckJson }) {
  const left = instantMs(noon.transitUtc) - trueNow.value
  return (
    <BigNumber
      size={left >= 0 ? 2 : 'row'}
      label={left >= 0 ? NOON.crossesIn : NOON.crossed}
      value={left >= 0 ? duration(left) : NOON.ago(left)}
    >
      {transitSays(noon)}
    </BigNumber>
  )
}

/** @param counts  down to a time that is not the crossing */
function Dials({ station, noon, counts }: { station: StationRecord; noon: NoonCheckJson; counts: boolean }) {
  const { mount } = station
  const { pose } = noon
  if (pose === null) return <Notice state="look-out">{NOON.noPose}</Notice>
  const reading = (axis: 'lower' | 'upper') => ({ label: axisName(mount, axis), ...dialled(mount, axis, pose[axis]) })
  return (
    <>
      <Text>{dialFor(pose, counts ? instantMs(pose.utc) - trueNow.value : null)}</Text>
      <AxisPair lower={reading('lower')} upper={reading('upper')} size={3} />
      {isPast(pose, trueNow.value) && <Notice state="next">{NOON.past}</Notice>}
      {!pose.inside && <Notice state="look-out">{NOON.notInside}</Notice>}
    </>
  )
}

function Expected({ station, pose }: { station: StationRecord; pose: NoonPoseJson | null }) {
  const unit = lengthUnit()
  return (
    <>
      {pose && <Text>{shadowExpectedSays(pose, 'behind', unit, isExpected(pose, station.dish))}</Text>}
      <Face station={station} view="behind" pose={pose} shadow={null} />
      {pose?.shadow && <Text quiet>{blurSays(pose.shadow.blurMm, unit)}</Text>}
      <ButtonRow>
        <SecondaryButton onPress={() => go('correct', 'feed')}>{NOON.toFeed}</SecondaryButton>
        <SecondaryButton onPress={() => go('sight', 'storm')}>{NOON.storm}</SecondaryButton>
        <SecondaryButton onPress={() => go('sight')}>{NOON.toDial}</SecondaryButton>
      </ButtonRow>
    </>
  )
}

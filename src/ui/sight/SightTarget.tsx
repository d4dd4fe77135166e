/** More of the chosen target: both readings with and without corrections, its place in every measure, what is heard of it. */
import type { Axis, StationRecord } from '../../core/records/fieldbook.ts'
import { ask, trueNow } from '../../state/ask.ts'
import { feedHere } from '../../state/chosenfeed.ts'
import { type PointingNow, pointing, target } from '../../state/pointing.ts'
import { useAsked, useSolveKey } from '../kit/asked.ts'
import { DemoMark } from '../kit/DemoMark.tsx'
import { degrees, fixed, NBSP, NONE, safeText, toward, utcAndLocal, WEST_EAST } from '../kit/format.ts'
import { AxisPair, Row, Rows, Sentence, Text } from '../kit/numbers.tsx'
import { PlaceFrame } from '../kit/PlaceFrame.tsx'
import { capital, dialled, targetWords } from '../kit/phrases.ts'
import { readingLabel } from '../kit/readings.ts'
import { boxWords, DRIVE, heardWords } from './drivewords.ts'
import { nextWords } from './words.ts'

const NORTH = ['south', 'north'] as const
/** Hour angle counts west of the meridian. */
const WEST = [WEST_EAST[1], WEST_EAST[0]] as const

export function SightTarget({ station }: { station: StationRecord }) {
  const of = target.value
  const at = pointing.value
  return (
    <PlaceFrame
      present="sight"
      title={capital(targetWords(of))}
      side={
        <>
          <About station={station} />
          <DemoMark station={station} />
        </>
      }
    >
      {at === null ? <Sentence>{DRIVE.asking}</Sentence> : <Place station={station} at={at} />}
    </PlaceFrame>
  )
}

function Place({ station, at }: { station: StationRecord; at: PointingNow }) {
  const { mount } = station
  const reading = (axis: Axis, value: number | null) => ({
    label: readingLabel(mount, axis),
    value: value === null ? NONE : dialled(mount, axis, value).value,
  })
  return (
    <>
      {at.reachable && (
        <>
          <section>
            <h2>{DRIVE.with}</h2>
            <AxisPair size={2} lower={reading('lower', at.lower)} upper={reading('upper', at.upper)} />
          </section>
          <section>
            <h2>{DRIVE.without}</h2>
            <AxisPair size={3} lower={reading('lower', at.enteredLower)} upper={reading('upper', at.enteredUpper)} />
          </section>
        </>
      )}
      <Sentence>{nextWords(mount, at, trueNow.value)}</Sentence>
      <Rows>
        <Row label="Azimuth">{degrees(at.azDeg, 2)}</Row>
        <Row label="Elevation">{degrees(at.elDeg, 2)}</Row>
        <Row label="Hour angle">{toward(at.haDeg, WEST, '°', null, 2)}</Row>
        <Row label="Declination">{toward(at.decDeg, NORTH, '°', null, 2)}</Row>
        {at.distanceKm !== null && (
          <Row label="Distance">{`${fixed(at.distanceKm, at.target.type === 'sun' ? -4 : 0)}${NBSP}km`}</Row>
        )}
        {at.sizeDeg !== null && <Row label="Size">{degrees(at.sizeDeg, 3)}</Row>}
        {at.spell !== null && at.spell.fromMs !== null && (
          <Row label="Within reach">
            {`${utcAndLocal(at.spell.fromMs)}${at.spell.untilMs === null ? '' : ` to ${utcAndLocal(at.spell.untilMs)}`}`}
          </Row>
        )}
      </Rows>
    </>
  )
}

/** What is heard of it, and how far a satellite strays. */
function About({ station }: { station: StationRecord }) {
  const of = target.value
  const feed = feedHere(station)
  const key = `${useSolveKey(station)} ${JSON.stringify([station.noise, feed, of])}`
  const { value } = useAsked(key, () => ask(station, 'aboutTarget', { feed, target: of }))
  if (value === null) return null
  const name = station.feeds.find(f => f.id === feed)?.name ?? feed
  return (
    <>
      {value.heard && <Text>{heardWords(value.heard, safeText(name))}</Text>}
      {value.box && <Text>{boxWords(value.box)}</Text>}
    </>
  )
}

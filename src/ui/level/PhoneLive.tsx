/**
 * The phone as a level, live: the bob, the big number, and the reading taken by itself once the phone has been still. Used
 * wherever a level is taken; the person can always go back and type instead.
 */

import type { ComponentChildren } from 'preact'
import { useEffect, useRef, useState } from 'preact/hooks'
import { oneReadingSigma, type PhoneReading } from '../../core/level/phone.ts'
import { angleApart, edgeOf, elevationOf, endsOf, lineOfEnd, type PhoneEnd } from '../../core/level/upvector.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { degFromRad, type Rad, radFromDeg } from '../../core/units.ts'
import type { Vec3 } from '../../core/vectors.ts'
import { type Live, phoneLevel, readySigns, signTaken, type TakenReading } from '../../state/level.ts'
import { takeStamp } from '../../state/now.ts'
import { Action, ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { Caution } from '../kit/Caution.tsx'
import { fixed } from '../kit/format.ts'
import { MountFrame } from '../kit/mount/parts.tsx'
import { CAUTIONS } from '../kit/mount/words.ts'
import { Notice } from '../kit/Notice.tsx'
import { BigNumber, Text } from '../kit/numbers.tsx'
import { attitudeWords } from '../kit/sensorwords.ts'
import { PlumbFacePlot } from './PlumbFacePlot.tsx'
import { endSays, PHONE, stillWords } from './phonewords.ts'

interface PhoneLiveProps {
  station: StationRecord
  title: string
  /** What to do with the phone now; a picture may stand in it. */
  children?: ComponentChildren
  /** The end whose rise is shown; null: only which way is up matters. */
  end: PhoneEnd | null
  /** Given: the other end may be chosen. */
  onEnd?: (end: PhoneEnd) => void
  /** It must be moved from this attitude before it may count again. */
  movedFrom?: Vec3<'Phone'> | null
  /** Rise of the end with the known bias taken off, rad. */
  shown?: (up: Vec3<'Phone'>, end: PhoneEnd) => Rad
  sigmaOf?: (reading: PhoneReading) => Rad
  onTaken: (reading: TakenReading, utcMs: number) => void
  /** Back, to type by hand. */
  onBack: () => void
  backWord?: string
}

/** A phone whose attitude differs by this much was moved, whether or not the movement was seen. */
const FAR: Rad = radFromDeg(5)

export function PhoneLive(p: PhoneLiveProps) {
  const live = phoneLevel.live.value
  const [moved, setMoved] = useState(!p.movedFrom)
  const [said, setSaid] = useState<string | null>(null)
  // What was held before this screen opened does not belong to this reading.
  const [before] = useState(() => {
    phoneLevel.anew()
    return live
  })
  const done = useRef(false)
  const take = (reading: TakenReading | null) => {
    if (reading === null || done.current) return
    done.current = true
    signTaken()
    p.onTaken(reading, takeStamp().utcMs)
  }
  useEffect(() => {
    if (live === null || live === before) return
    if (!moved) {
      const up = live.attitude.up
      if (live.still.kind === 'moving' || (up && p.movedFrom && angleApart(up, p.movedFrom) > FAR)) {
        phoneLevel.anew()
        setMoved(true)
      }
    } else if (live.reading !== null) take(live.reading)
  }, [live])

  const state = live?.attitude.state ?? 'starting'
  const words = attitudeWords(state)
  const held = words === null && live?.attitude.up ? live : null
  return (
    <MountFrame
      station={p.station}
      title={p.title}
      action={<LiveAction state={state} onTake={take} onSay={setSaid} />}
      side={
        <>
          {held && <Text quiet>{PHONE.still}</Text>}
          <ButtonRow>
            {p.onEnd && p.end !== null && (
              <SecondaryButton onPress={() => p.onEnd!(otherEnd(p.end!))}>{PHONE.otherEnd}</SecondaryButton>
            )}
            <SecondaryButton onPress={p.onBack}>{p.backWord ?? PHONE.byHand}</SecondaryButton>
          </ButtonRow>
        </>
      }
    >
      {p.children}
      {held && (
        <div class="phone-bob">
          <PlumbFacePlot up={shownUp(held)} />
        </div>
      )}
      {held && <Held live={held} mustMove={!moved} p={p} />}
      {words && (
        <Notice state={words.stop ? 'stop' : 'next'} {...(words.stop ? {} : { word: PHONE.title })} live="status">
          {words.text}
        </Notice>
      )}
      <p role="status">{said}</p>
      <Caution {...CAUTIONS.axis} />
    </MountFrame>
  )
}

/** Still: the mean so far; else what is held now. */
const shownUp = ({ still, attitude }: Live): Vec3<'Phone'> => (still.kind === 'still' ? still.mean.up : attitude.up!)

const otherEnd = (end: PhoneEnd): PhoneEnd => endsOf(edgeOf(end)).find(e => e !== end)!

function Held({ live, mustMove, p }: { live: Live; mustMove: boolean; p: PhoneLiveProps }) {
  const { still, attitude } = live
  const at = shownUp(live)
  const reading: PhoneReading | null =
    still.kind === 'still' && attitude.source !== null
      ? { ...still.mean, source: attitude.source, step: attitude.step }
      : null
  const deg = p.end === null ? null : degFromRad((p.shown ?? plain)(at, p.end))
  return (
    <div class="phone-live" aria-live="off">
      {deg !== null && p.end !== null && (
        <BigNumber
          label={endSays(p.end, deg)}
          value={fixed(Math.abs(deg), 1)}
          unit="°"
          sigma={reading && fixed(Math.max(0.1, degFromRad((p.sigmaOf ?? oneReadingSigma)(reading))), 1)}
        />
      )}
      <p class={`phone-still phone-${mustMove ? 'moving' : still.kind}`}>{stillWords(live, mustMove)}</p>
    </div>
  )
}
const plain = (up: Vec3<'Phone'>, end: PhoneEnd): Rad => elevationOf(lineOfEnd(end), up)

function LiveAction(p: {
  state: string
  onTake: (reading: TakenReading | null) => void
  onSay: (words: string | null) => void
}) {
  if (p.state === 'not-asked')
    return (
      <Action
        onPress={() => {
          readySigns()
          void phoneLevel.ask()
        }}
      >
        {PHONE.start}
      </Action>
    )
  if (p.state === 'sign-unknown')
    return <Action onPress={() => p.onSay(phoneLevel.liesFaceUp() ? null : PHONE.notOnBack)}>{PHONE.liesOnBack}</Action>
  const can = p.state === 'delivering' || p.state === 'silent'
  return (
    <Action notNow={can ? null : PHONE.allBroken} onPress={() => p.onTake(phoneLevel.takeNow())}>
      {PHONE.takeNow}
    </Action>
  )
}

/** A place found by the phone's receiver or by a locator, and its two fields: what is found fills them at once; the fields count. */
import { useEffect, useState } from 'preact/hooks'
import { locatorFromPlace, placeFromLocator } from '../../core/records/locator.ts'
import { positionTold } from '../../state/position.ts'
import { ButtonRow, SecondaryButton } from './buttons.tsx'
import { NumberField, TextField } from './fields.tsx'
import { angleStyle, countOf, fixed, latitude, longitude, MINUS, NBSP } from './format.ts'
import { KINDS } from './kinds.ts'
import { Notice } from './Notice.tsx'
import { numberOf, typedAngle } from './numberfield.ts'
import { Text } from './numbers.tsx'

export const PLACE = {
  by: 'Your place',
  phone: 'Find it by the phone',
  notByPhone: 'Type the place instead',
  stop: 'Stop',
  waiting: 'Waiting for the first fix. Under open sky this can take a few minutes.',
  denied:
    'The phone does not share its position with this page. Allow it in the settings of the phone or the browser, or type the place.',
  absent: 'This phone gives pages no position. Type the place.',
  noFix: 'No fix yet. Step out from under the dish and wait, or type the place.',
  fix: (radius: string, fixes: number) => `Good to ${radius} (95 %), from ${countOf(fixes, 'fix', 'fixes')}.`,
  enough: '100 m out moves the Moon by a thousandth of a degree.',
  height: 'Some phones give it above the ellipsoid, 20 to 50 m from sea level: no harm here.',
  enoughFixes: 'Stop: good enough',
  orLocator: 'Or your locator',
  locator: 'Locator',
  locatorHint: 'Such as JN47pm. Its centre fills the fields below.',
  locatorSize: (km: string) => `Filled in below, good to ${km}.`,
  isLocator: (text: string) => `Locator ${text}.`,
  latitude: 'Latitude',
  longitude: 'Longitude',
} as const

/** A latitude or longitude as it is put into a field: six decimals are 0.1 m. */
export const writtenPlace = (deg: number): string => {
  const text = Math.abs(deg).toFixed(6)
  return angleStyle() === 'decimal' ? (deg < 0 ? MINUS : '') + text : typedAngle(Number(deg.toFixed(6)))
}

type OnPlace = (latDeg: number, lonDeg: number, heightM: number | null) => void

interface FindByPhoneProps {
  finding: boolean
  onFinding: (finding: boolean) => void
  onPlace: OnPlace
}

export function FindByPhone({ finding, onFinding, onPlace }: FindByPhoneProps) {
  return finding ? (
    <Finding onPlace={onPlace} onEnd={() => onFinding(false)} />
  ) : (
    <ButtonRow>
      <SecondaryButton onPress={() => onFinding(true)}>{PLACE.phone}</SecondaryButton>
    </ButtonRow>
  )
}

/** The receiver runs while this is on the screen. */
function Finding({ onPlace, onEnd }: { onPlace: OnPlace; onEnd: () => void }) {
  const told = positionTold.value
  const fix = told?.kind === 'position' ? told.position : null
  useEffect(() => {
    if (fix) onPlace(fix.latDeg, fix.lonDeg, fix.heightM)
  }, [fix])
  if (told?.kind !== 'position') {
    const words = { denied: PLACE.denied, absent: PLACE.absent, 'no-fix': PLACE.noFix }
    const refused = told?.kind === 'denied' || told?.kind === 'absent'
    return (
      <>
        <Notice state={refused ? 'stop' : 'next'} word={PLACE.by} live="status">
          {told ? words[told.kind] : PLACE.waiting}
        </Notice>
        <SecondaryButton onPress={onEnd}>{refused ? PLACE.notByPhone : PLACE.stop}</SecondaryButton>
      </>
    )
  }
  const { latDeg, lonDeg, radiusM, heightM, fixes } = told.position
  return (
    <>
      <Notice state={radiusM <= 100 ? 'good' : 'look-out'} word={`${latitude(latDeg, 5)}, ${longitude(lonDeg, 5)}`}>
        {heightM !== null && `${fixed(heightM, 0)}${NBSP}m high. `}
        {PLACE.fix(`${fixed(radiusM, radiusM < 10 ? 1 : 0)}${NBSP}m`, fixes)} {PLACE.enough}{' '}
        {heightM !== null && PLACE.height}
      </Notice>
      <SecondaryButton onPress={onEnd}>{PLACE.enoughFixes}</SecondaryButton>
      <span class="hidden-words" role="status">
        {fixes === 1 ? countOf(fixes, 'fix', 'fixes') : ''}
      </span>
    </>
  )
}

export function ByLocator({ label, onPlace }: { label: string; onPlace: (latDeg: number, lonDeg: number) => void }) {
  const [text, setText] = useState('')
  const place = placeFromLocator(text)
  return (
    <>
      <TextField
        label={label}
        text={text}
        onText={next => {
          setText(next)
          const found = placeFromLocator(next)
          if (found.ok) onPlace(found.value.latDeg, found.value.lonDeg)
        }}
        hint={PLACE.locatorHint}
        wrong={text.trim() !== '' && !place.ok ? place.faults[0]!.rule : null}
      />
      {place.ok && (
        <Text quiet>
          {PLACE.locatorSize(
            `${fixed(
              111.32 *
                Math.hypot(
                  place.value.halfLatDeg,
                  place.value.halfLonDeg * Math.cos((place.value.latDeg * Math.PI) / 180),
                ),
              1,
            )}${NBSP}km`,
          )}
        </Text>
      )}
    </>
  )
}

/** The locator of the place in the fields; nothing while one of them is not an angle. */
export function ItsLocator({ latDeg, lonDeg }: { latDeg: number | null; lonDeg: number | null }) {
  if (latDeg === null || lonDeg === null) return null
  return <Text quiet>{PLACE.isLocator(locatorFromPlace(latDeg, lonDeg, 6))}</Text>
}

/** A place as it is typed. */
export interface PlaceTexts {
  lat: string
  lon: string
}

/** The place that the texts give; null while they cannot be read. */
export function placeOfTexts({ lat, lon }: PlaceTexts): { latDeg: number; lonDeg: number } | null {
  const [latDeg, lonDeg] = [numberOf(lat, KINDS.latitude), numberOf(lon, KINDS.longitude)]
  return latDeg === null || lonDeg === null ? null : { latDeg, lonDeg }
}

interface PlaceFieldsProps {
  texts: PlaceTexts
  onTexts: (texts: PlaceTexts) => void
  /** It may be where the phone is. */
  byPhone?: boolean
}

export function PlaceFields({ texts, onTexts, byPhone = false }: PlaceFieldsProps) {
  const [finding, setFinding] = useState(false)
  const put = (latDeg: number, lonDeg: number) => onTexts({ lat: writtenPlace(latDeg), lon: writtenPlace(lonDeg) })
  // Typing ends the search: the receiver's next fix would overwrite what was typed.
  const type = (change: Partial<PlaceTexts>) => {
    setFinding(false)
    onTexts({ ...texts, ...change })
  }
  return (
    <>
      {byPhone && <FindByPhone finding={finding} onFinding={setFinding} onPlace={put} />}
      <ByLocator
        label={byPhone ? PLACE.orLocator : PLACE.locator}
        onPlace={(latDeg, lonDeg) => {
          setFinding(false)
          put(latDeg, lonDeg)
        }}
      />
      <NumberField label={PLACE.latitude} kind={KINDS.latitude} text={texts.lat} onText={lat => type({ lat })} />
      <NumberField label={PLACE.longitude} kind={KINDS.longitude} text={texts.lon} onText={lon => type({ lon })} />
      <ItsLocator latDeg={numberOf(texts.lat, KINDS.latitude)} lonDeg={numberOf(texts.lon, KINDS.longitude)} />
    </>
  )
}

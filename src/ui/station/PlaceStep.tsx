/**
 * Where the station stands: typed, from the phone's receiver, or from a locator. What is found fills the fields at once; what
 * stands in them counts.
 */
import { useEffect, useState } from 'preact/hooks'
import { locatorFromPlace, placeFromLocator } from '../../core/records/locator.ts'
import { positionTold } from '../../state/position.ts'
import { ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { TextField } from '../kit/fields.tsx'
import { angleStyle, countOf, fixed, latitude, longitude, MINUS, NBSP } from '../kit/format.ts'
import { HelpLine } from '../kit/HelpLine.tsx'
import { Notice } from '../kit/Notice.tsx'
import { parseNumber, typedAngle } from '../kit/numberfield.ts'
import { Text } from '../kit/numbers.tsx'
import { type FormView, NumberAt, textAt } from './FormFields.tsx'
import { specOf } from './fields.ts'
import { withText } from './form.ts'
import { PLACE } from './words.ts'

/** Six decimals are 0.1 m. */
const written = (deg: number): string => {
  const text = Math.abs(deg).toFixed(6)
  return angleStyle() === 'decimal' ? (deg < 0 ? MINUS : '') + text : typedAngle(Number(deg.toFixed(6)))
}
const writePlace = (view: FormView, latDeg: number, lonDeg: number, heightM: number | null) => {
  let form = withText(withText(view.form, 'site.latDeg', written(latDeg)), 'site.lonDeg', written(lonDeg))
  if (heightM !== null) form = withText(form, 'site.heightM', fixed(heightM, 0).replace(/\s/g, ''))
  view.set(form)
}

export function PlaceStep({ view: given }: { view: FormView }) {
  const [finding, setFinding] = useState(false)
  // Who types has the last word: the receiver would write over it with its next fix.
  const view: FormView = {
    ...given,
    write: (path, text) => {
      if (path === 'site.latDeg' || path === 'site.lonDeg') setFinding(false)
      given.write(path, text)
    },
  }
  return (
    <>
      {finding ? (
        <Finding view={given} onEnd={() => setFinding(false)} />
      ) : (
        <ButtonRow>
          <SecondaryButton onPress={() => setFinding(true)}>{PLACE.phone}</SecondaryButton>
        </ButtonRow>
      )}
      <ByLocator view={view} onFound={() => setFinding(false)} />
      <NumberAt view={view} path="site.latDeg" />
      <NumberAt view={view} path="site.lonDeg" />
      <ItsLocator view={view} />
      <NumberAt view={view} path="site.heightM" />
      <HelpLine word={PLACE.air}>
        <NumberAt view={view} path="site.air.pressureHPa" />
        <NumberAt view={view} path="site.air.temperatureC" />
        <NumberAt view={view} path="site.air.humidityPct" />
      </HelpLine>
    </>
  )
}

/** The receiver runs while this is on the screen. */
function Finding({ view, onEnd }: { view: FormView; onEnd: () => void }) {
  const told = positionTold.value
  const fix = told?.kind === 'position' ? told.position : null
  useEffect(() => {
    if (fix) writePlace(view, fix.latDeg, fix.lonDeg, fix.heightM)
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

function ItsLocator({ view }: { view: FormView }) {
  const [lat, lon] = (['site.latDeg', 'site.lonDeg'] as const).map(path =>
    parseNumber(textAt(view, path), specOf(view.form, path).kind),
  )
  if (lat?.kind !== 'value' || lon?.kind !== 'value') return null
  return <Text quiet>{PLACE.isLocator(locatorFromPlace(lat.value, lon.value, 6))}</Text>
}

function ByLocator({ view, onFound }: { view: FormView; onFound: () => void }) {
  const [text, setText] = useState('')
  const place = placeFromLocator(text)
  return (
    <>
      <TextField
        label={PLACE.locator}
        text={text}
        onText={next => {
          setText(next)
          const found = placeFromLocator(next)
          if (!found.ok) return
          onFound()
          writePlace(view, found.value.latDeg, found.value.lonDeg, null)
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

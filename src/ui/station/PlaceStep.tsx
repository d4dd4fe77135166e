/**
 * Where the station stands: typed, from the phone's receiver, or from a locator. What is found fills the fields at once; the
 * fields count.
 */
import { useState } from 'preact/hooks'
import { fixed } from '../kit/format.ts'
import { HelpLine } from '../kit/HelpLine.tsx'
import { numberOf } from '../kit/numberfield.ts'
import { ByLocator, FindByPhone, ItsLocator, PLACE, writtenPlace } from '../kit/PlaceFinder.tsx'
import { type FormView, NumberAt, textAt } from './FormFields.tsx'
import { specOf } from './fields.ts'
import { withText } from './form.ts'
import { PLACE_AIR } from './words.ts'

const writePlace = (view: FormView, latDeg: number, lonDeg: number, heightM: number | null) => {
  let form = withText(withText(view.form, 'site.latDeg', writtenPlace(latDeg)), 'site.lonDeg', writtenPlace(lonDeg))
  if (heightM !== null) form = withText(form, 'site.heightM', fixed(heightM, 0).replace(/\s/g, ''))
  view.set(form)
}

export function PlaceStep({ view: given }: { view: FormView }) {
  const [finding, setFinding] = useState(false)
  // Typing ends the search: the receiver's next fix would overwrite what was typed.
  const view: FormView = {
    ...given,
    write: (path, text) => {
      if (path === 'site.latDeg' || path === 'site.lonDeg') setFinding(false)
      given.write(path, text)
    },
  }
  const typed = (path: string) => numberOf(textAt(view, path), specOf(view.form, path).kind)
  return (
    <>
      <FindByPhone
        finding={finding}
        onFinding={setFinding}
        onPlace={(latDeg, lonDeg, heightM) => writePlace(given, latDeg, lonDeg, heightM)}
      />
      <ByLocator
        label={PLACE.orLocator}
        onPlace={(latDeg, lonDeg) => {
          setFinding(false)
          writePlace(view, latDeg, lonDeg, null)
        }}
      />
      <NumberAt view={view} path="site.latDeg" />
      <NumberAt view={view} path="site.lonDeg" />
      <ItsLocator latDeg={typed('site.latDeg')} lonDeg={typed('site.lonDeg')} />
      <NumberAt view={view} path="site.heightM" />
      <HelpLine word={PLACE_AIR}>
        <NumberAt view={view} path="site.air.pressureHPa" />
        <NumberAt view={view} path="site.air.temperatureC" />
        <NumberAt view={view} path="site.air.humidityPct" />
      </HelpLine>
    </>
  )
}

/** A landmark or beacon by its coordinates: where it stands from here, and how far away. */
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { ask } from '../../state/ask.ts'
import { chooseTarget } from '../../state/pointing.ts'
import { useAsked } from '../kit/asked.ts'
import { Action } from '../kit/buttons.tsx'
import { DemoMark } from '../kit/DemoMark.tsx'
import { NumberField } from '../kit/fields.tsx'
import { degrees, fixed, lengthUnit, NBSP } from '../kit/format.ts'
import { HelpLine } from '../kit/HelpLine.tsx'
import { useKept } from '../kit/keptany.ts'
import { go } from '../kit/navigation.ts'
import { Sentence, Text } from '../kit/numbers.tsx'
import { PlaceFrame } from '../kit/PlaceFrame.tsx'
import { heightTyped, LANDMARK_KINDS, type LandmarkForm, landmarkOf, MILES_KM } from './driveform.ts'
import { DRIVE } from './drivewords.ts'

export function SightLandmark({ station }: { station: StationRecord }) {
  const unit = lengthUnit()
  const [form, setForm] = useKept<LandmarkForm>(`landmark.${station.id}`, () => ({
    ...{ lat: '', lon: '', top: '' },
    own: heightTyped(station.site.heightM, unit),
  }))
  const set = (change: Partial<LandmarkForm>) => setForm(before => ({ ...before, ...change }))
  const wish = landmarkOf(form, unit)
  const key = wish && JSON.stringify([station.id, station.site, wish])
  const { value, asking } = useAsked(key, () => ask(station, 'landmark', wish!))
  const seen = value?.kind === 'sightline' && !asking ? value : null
  const height = LANDMARK_KINDS.height(unit)
  const field = (label: string, which: keyof LandmarkForm, kind: typeof height, hint?: string) => (
    <NumberField
      label={label}
      kind={kind}
      text={form[which]}
      onText={text => set({ [which]: text })}
      {...(hint !== undefined && { hint })}
    />
  )
  return (
    <PlaceFrame
      present="sight"
      title={DRIVE.landmarkTitle}
      action={
        <Action
          notNow={wish === null ? DRIVE.landmarkNotYet : null}
          off={seen === null}
          onPress={() => {
            if (seen === null) return
            // To a ten-thousandth of a degree: 2 m at 1000 km.
            const to4 = (deg: number) => Number(deg.toFixed(4))
            chooseTarget({ type: 'landmark', azDeg: to4(seen.azDeg) % 360, elDeg: to4(seen.radioElDeg) })
            go('sight')
          }}
        >
          {DRIVE.take}
        </Action>
      }
    >
      <div role="status">
        {seen && (
          <>
            <Sentence strong>
              {`az ${degrees(seen.azDeg, 2)}, el ${degrees(seen.radioElDeg, 2)}, ${distanceText(seen.distanceKm, unit)}`}
            </Sentence>
            {seen.radioElDeg < 0 && <Text>{DRIVE.below}</Text>}
          </>
        )}
        {value !== null && value.kind !== 'sightline' && !asking && (
          <Sentence>{value.kind === 'too-near' ? DRIVE.tooNear : DRIVE.tooFar}</Sentence>
        )}
      </div>
      {field(DRIVE.lat, 'lat', LANDMARK_KINDS.lat)}
      {field(DRIVE.lon, 'lon', LANDMARK_KINDS.lon)}
      {field(DRIVE.top, 'top', height, DRIVE.heightHint)}
      {field(DRIVE.own, 'own', height, ' ')}
      <HelpLine word="What this rests on">{DRIVE.source}</HelpLine>
      <DemoMark station={station} />
    </PlaceFrame>
  )
}

const distanceText = (km: number, unit: 'mm' | 'in'): string => {
  const far = unit === 'mm' ? km : km / MILES_KM
  return `${fixed(far, far < 10 ? 2 : far < 100 ? 1 : 0)}${NBSP}${unit === 'mm' ? 'km' : 'miles'}`
}

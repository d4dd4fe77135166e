/** How far the target is above cold sky in the beam's centre, where that is known: then a drift also gives the offset across it. */
import { useState } from 'preact/hooks'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import type { DriftScanRecord } from '../../core/records/scans.ts'
import { setCentre } from '../../state/scans.ts'
import { SecondaryButton } from '../kit/buttons.tsx'
import { NumberField } from '../kit/fields.tsx'
import { HelpLine } from '../kit/HelpLine.tsx'
import { typedNumber } from '../kit/numberfield.ts'
import { Text } from '../kit/numbers.tsx'
import { CENTRE_KINDS, type CentreForm, centreOf } from './form.ts'
import { DRIFT } from './words.ts'

export function Centre({ station, scan }: { station: StationRecord; scan: DriftScanRecord }) {
  const [form, setForm] = useState<CentreForm>(() => ({
    rise: typedNumber(scan.centre?.riseDb),
    sigma: typedNumber(scan.centre?.sigmaDb),
  }))
  const centre = centreOf(form)
  return (
    <HelpLine word={DRIFT.centre}>
      <Text>{DRIFT.centreWhy}</Text>
      <NumberField
        label={DRIFT.rise}
        kind={CENTRE_KINDS.rise}
        text={form.rise}
        hint={DRIFT.riseHint}
        onText={rise => setForm({ ...form, rise })}
      />
      <NumberField
        label={DRIFT.sigma}
        kind={CENTRE_KINDS.sigma}
        text={form.sigma}
        hint={DRIFT.sigmaHint}
        onText={sigma => setForm({ ...form, sigma })}
      />
      <SecondaryButton disabled={centre === null} onPress={() => void setCentre(station.id, scan.id, centre)}>
        {DRIFT.useCentre}
      </SecondaryButton>
      {scan.centre !== undefined && (
        <SecondaryButton onPress={() => void setCentre(station.id, scan.id, null)}>{DRIFT.dropCentre}</SecondaryButton>
      )}
    </HelpLine>
  )
}

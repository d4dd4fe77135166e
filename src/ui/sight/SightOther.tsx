/** Another target than Sun and Moon: a radio source, a satellite by its longitude, a landmark. */
import { useState } from 'preact/hooks'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { chooseTarget, target } from '../../state/pointing.ts'
import { Action } from '../kit/buttons.tsx'
import { Choice } from '../kit/Choice.tsx'
import { go, goBack } from '../kit/navigation.ts'
import { typedAngle } from '../kit/numberfield.ts'
import { RowButton } from '../kit/numbers.tsx'
import { Screen } from '../kit/Screen.tsx'
import { emptySightForm, type SightForm, targetOf } from '../kit/sighting/form.ts'
import { TargetParts } from '../kit/sighting/TargetFields.tsx'
import { missingWords, SIGHTING } from '../kit/sighting/words.ts'
import { UtcNow } from '../kit/UtcNow.tsx'
import { DRIVE } from './drivewords.ts'
import { SIGHT } from './words.ts'

export function OtherTarget({ station }: { station: StationRecord }) {
  const of = target.value
  const [form, setForm] = useState<SightForm>(() => ({
    ...emptySightForm('mm'),
    target: of.type === 'moon' || of.type === 'sun' ? null : of.type,
    ...(of.type === 'source' && { source: of.name }),
    ...(of.type === 'geostationary' && { satelliteLon: typedAngle(of.lonDeg) }),
    ...(of.type === 'landmark' && { landmarkAz: typedAngle(of.azDeg), landmarkEl: typedAngle(of.elDeg) }),
  }))
  const said = targetOf(form)
  return (
    <Screen
      title={SIGHT.otherTitle}
      utc={<UtcNow />}
      present="sight"
      onGo={id => go(id)}
      action={
        <Action
          notNow={said ? null : missingWords(station.mount, ['target'])}
          onPress={() => {
            if (said) chooseTarget(said)
            goBack('sight')
          }}
        >
          {SIGHT.takeIt}
        </Action>
      }
    >
      <Choice
        label={SIGHTING.target}
        long
        value={form.target}
        options={(['source', 'geostationary', 'landmark'] as const).map(value => ({
          value,
          word: SIGHTING.targetOthers[value],
        }))}
        onPick={value => setForm({ ...form, target: value })}
      />
      <TargetParts form={form} set={change => setForm({ ...form, ...change })} />
      {form.target === 'landmark' && (
        <RowButton label={DRIVE.landmarkRow} value="" onPress={() => go('sight', 'landmark')} />
      )}
    </Screen>
  )
}

/** Where what was moved stands now: a clamp or stop position with a name, to which a later change can return. */
import { Choice } from '../kit/Choice.tsx'
import { NumberField, TextField } from '../kit/fields.tsx'
import { seenText } from '../kit/format.ts'
import { HelpLine } from '../kit/HelpLine.tsx'
import { KINDS } from '../kit/kinds.ts'
import type { PositionForm } from './form.ts'
import { CHANGE } from './words.ts'

interface Props {
  /** Names given before, the latest first. */
  names: readonly string[]
  /** Where it stood until now; null: that place has no name yet. */
  was: string | null
  form: PositionForm
  set: (change: Partial<PositionForm>) => void
}

/** Where names are known already they are offered at once; the first time it is behind one line. */
export function PositionFields({ names, was, form, set }: Props) {
  const { picked } = form
  const fields = (
    <>
      {(names.length > 0 || picked !== null) && (
        <Choice
          label={CHANGE.positionWhich}
          value={picked === null ? 'none' : picked === '' ? 'other' : `at ${picked}`}
          options={[
            ...[...new Set([...names, ...(picked ? [picked] : [])])].map(name => ({
              value: `at ${name}`,
              word: <bdi>{seenText(name)}</bdi>,
            })),
            { value: 'other', word: CHANGE.positionOther },
            { value: 'none', word: CHANGE.positionNone },
          ]}
          onPick={value => set({ picked: value === 'none' ? null : value === 'other' ? '' : value.slice(3) })}
        />
      )}
      {(picked === '' || (names.length === 0 && picked === null)) && (
        <TextField
          label={CHANGE.positionName}
          text={form.name}
          maxLength={500}
          hint={CHANGE.positionHint}
          onText={name => set({ name, picked: name.trim() === '' && names.length === 0 ? null : '' })}
        />
      )}
      {picked !== null && (
        <>
          <NumberField
            label={CHANGE.positionSigma}
            kind={KINDS.sigma}
            text={form.sigma}
            hint={CHANGE.positionSigmaHint}
            onText={sigma => set({ sigma })}
          />
          {was === null && (
            <TextField
              label={CHANGE.positionBefore}
              text={form.before}
              maxLength={500}
              hint={CHANGE.positionBeforeHint}
              onText={before => set({ before })}
            />
          )}
        </>
      )}
    </>
  )
  return names.length > 0 ? fields : <HelpLine word={CHANGE.position}>{fields}</HelpLine>
}

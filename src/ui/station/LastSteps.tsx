/** Name, what is allowed, the horizon, and what was measured beforehand. */
import { useState } from 'preact/hooks'
import { SecondaryButton } from '../kit/buttons.tsx'
import { Choice } from '../kit/Choice.tsx'
import { RowButton, Text } from '../kit/numbers.tsx'
import { valueAt } from './DishSteps.tsx'
import { FieldFault, type FormView, faultAt, NumberAt, TextAt, textAt } from './FormFields.tsx'
import { knowable } from './fields.ts'
import { withoutRow, withRow } from './form.ts'
import { kindOf } from './MountSteps.tsx'
import { HORIZON, KNOWN, priorWords } from './words.ts'

export function NameStep({ view }: { view: FormView }) {
  return (
    <>
      <TextAt view={view} path="name" />
      <TextAt view={view} path="notes" long />
    </>
  )
}

export function AllowStep({ view }: { view: FormView }) {
  return (
    <>
      <NumberAt view={view} path="tolerance.echoLossDb" />
      <NumberAt view={view} path="tolerance.minElevationDeg" />
      <NumberAt view={view} path="tolerance.floorDeg" />
    </>
  )
}

export function HorizonStep({ view }: { view: FormView }) {
  const rows = view.form.rows.horizonMask
  return (
    <>
      <Text>{HORIZON.what}</Text>
      {rows.length === 0 && <Text quiet>{HORIZON.none}</Text>}
      {rows.map((row, index) => (
        <section class="book-section" key={row.key}>
          <h2>{HORIZON.point(index + 1)}</h2>
          <div class="book-two">
            <NumberAt view={view} path={`horizonMask.${row.key}.azDeg`} />
            <NumberAt view={view} path={`horizonMask.${row.key}.elDeg`} />
          </div>
          <SecondaryButton stop onPress={() => view.set(withoutRow(view.form, 'horizonMask', row.key))}>
            {HORIZON.remove(index + 1)}
          </SecondaryButton>
        </section>
      ))}
      <SecondaryButton onPress={() => view.set(withRow(view.form, 'horizonMask', {}))}>{HORIZON.add}</SecondaryButton>
    </>
  )
}

export function KnownStep({ view }: { view: FormView }) {
  const [choosing, setChoosing] = useState(false)
  const kind = kindOf(view)
  const latDeg = valueAt(view, 'site.latDeg') ?? 45
  const feeds = view.form.rows.feeds.map(row => ({
    id: textAt(view, `feeds.${row.key}.id`),
    name: textAt(view, `feeds.${row.key}.name`),
  }))
  if (kind === null) return <Text>{KNOWN.needMount}</Text>
  const wordsOf = (name: string) => priorWords(name, kind, latDeg, feeds)
  return (
    <>
      <Text>{KNOWN.what}</Text>
      {view.form.rows.priors.map(row => {
        const at = (field: string) => `priors.${row.key}.${field}`
        const label = wordsOf(textAt(view, at('id')))
        return (
          <section class="book-section" key={row.key}>
            <h2>{label}</h2>
            <NumberAt view={view} path={at('value')} label={KNOWN.value} />
            <NumberAt view={view} path={at('sigma')} label={KNOWN.sigma} />
            <Choice
              label={KNOWN.measured}
              options={[
                { value: 'yes', word: KNOWN.yes },
                { value: 'no', word: KNOWN.no },
              ]}
              value={textAt(view, at('measured')) === 'yes' ? 'yes' : 'no'}
              onPick={value => view.write(at('measured'), value)}
            />
            {faultAt(view, at('id')) && <FieldFault>{faultAt(view, at('id'))}</FieldFault>}
            <SecondaryButton stop onPress={() => view.set(withoutRow(view.form, 'priors', row.key))}>
              {KNOWN.remove(label)}
            </SecondaryButton>
          </section>
        )
      })}
      {choosing ? (
        <section class="book-section">
          <h2>{KNOWN.which}</h2>
          {knowable(
            kind,
            { lower: textAt(view, 'mount.lower.readout.type'), upper: textAt(view, 'mount.upper.readout.type') },
            feeds,
          ).map(name => (
            <RowButton
              key={name}
              label={wordsOf(name)}
              onPress={() => {
                view.set(withRow(view.form, 'priors', { id: name, measured: 'yes' }))
                setChoosing(false)
              }}
            />
          ))}
          <SecondaryButton onPress={() => setChoosing(false)}>{KNOWN.never}</SecondaryButton>
        </section>
      ) : (
        <SecondaryButton onPress={() => setChoosing(true)}>{KNOWN.add}</SecondaryButton>
      )}
    </>
  )
}

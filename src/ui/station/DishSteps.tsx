/** The dish and its feeds. */
import { beamwidth } from '../../core/dish/optics.ts'
import { focalRatioFromDepth } from '../../core/dish/paraboloid.ts'
import { degFromRad } from '../../core/units.ts'
import { SecondaryButton } from '../kit/buttons.tsx'
import { degrees, fixed, lengthUnit, measuredLength } from '../kit/format.ts'
import { parseNumber } from '../kit/numberfield.ts'
import { Text } from '../kit/numbers.tsx'
import { ChoiceAt, FieldFault, type FormView, faultAt, NumberAt, TextAt, textAt } from './FormFields.tsx'
import { recordValue, specOf } from './fields.ts'
import { freeFeedId, withoutRow, withRow } from './form.ts'
import { DISH, FEEDS } from './words.ts'

/** The number in a field, as the record would hold it; null while there is none. */
export function valueAt(view: FormView, path: string): number | null {
  const spec = specOf(view.form, path)
  const parsed = parseNumber(textAt(view, path), spec.kind)
  return parsed.kind === 'value' ? recordValue(view.form, spec, parsed.value) : null
}

export function DishStep({ view }: { view: FormView }) {
  const byDepth = textAt(view, 'dish.by') === 'depth'
  const diameter = valueAt(view, 'dish.diameterM')
  const depth = byDepth ? valueAt(view, 'dish.depth') : null
  const ratio = diameter && depth ? focalRatioFromDepth(1000 * diameter, depth) : null
  return (
    <>
      <NumberAt view={view} path="dish.diameterM" />
      <ChoiceAt
        view={view}
        path="dish.by"
        label={DISH.by}
        options={[
          { value: 'ratio', word: DISH.ratio },
          { value: 'depth', word: DISH.depth },
        ]}
      />
      {byDepth ? <NumberAt view={view} path="dish.depth" /> : <NumberAt view={view} path="dish.focalRatio" />}
      {ratio !== null && diameter !== null && (
        <Text quiet>
          {DISH.makes(fixed(ratio, 4), measuredLength(1000 * ratio * diameter, null, lengthUnit()).text)}
        </Text>
      )}
      <NumberAt view={view} path="dish.surfaceRmsMm" />
    </>
  )
}

export function FeedsStep({ view }: { view: FormView }) {
  const { feeds } = view.form.rows
  const diameter = valueAt(view, 'dish.diameterM')
  return (
    <>
      {feeds.map((row, index) => {
        const at = (name: string) => `feeds.${row.key}.${name}`
        const frequency = valueAt(view, at('frequencyMHz'))
        return (
          <section class="book-section" key={row.key}>
            <h2>{FEEDS.one(index + 1)}</h2>
            <TextAt view={view} path={at('name')} />
            <NumberAt view={view} path={at('frequencyMHz')} />
            {frequency && diameter && (
              <Text quiet>{FEEDS.beam(degrees(degFromRad(beamwidth(frequency, diameter)), 2))}</Text>
            )}
            <NumberAt view={view} path={at('beamwidthDeg')} />
            <NumberAt view={view} path={at('systemTemperatureK')} />
            <ChoiceAt
              view={view}
              path={at('hearsMoonEchoes')}
              label={FEEDS.echoes}
              options={[
                { value: 'yes', word: FEEDS.yes },
                { value: 'no', word: FEEDS.no },
              ]}
            />
            {feeds.length > 1 && (
              <SecondaryButton stop onPress={() => view.set(withoutRow(view.form, 'feeds', row.key))}>
                {FEEDS.remove(index + 1)}
              </SecondaryButton>
            )}
          </section>
        )
      })}
      {faultAt(view, 'feeds') && <FieldFault>{faultAt(view, 'feeds')}</FieldFault>}
      <SecondaryButton onPress={() => view.set(withRow(view.form, 'feeds', { id: freeFeedId(view.form) }))}>
        {FEEDS.add}
      </SecondaryButton>
      <NumberAt view={view} path="dish.feedDiameterMm" />
    </>
  )
}

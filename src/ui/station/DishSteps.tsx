/** The dish and its feeds. */
import { BANDS } from '../../core/dish/bands.ts'
import { beamwidth } from '../../core/dish/optics.ts'
import { focalRatioFromDepth } from '../../core/dish/paraboloid.ts'
import { degFromRad } from '../../core/units.ts'
import { SecondaryButton } from '../kit/buttons.tsx'
import { Choice } from '../kit/Choice.tsx'
import { degrees, fixed, lengthUnit, measuredLength } from '../kit/format.ts'
import { HelpLine } from '../kit/HelpLine.tsx'
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

/** A band is one tap; the field below takes any other frequency. */
function FrequencyAt({ view, path }: { view: FormView; path: string }) {
  const frequency = valueAt(view, path)
  const band = BANDS.find(b => b.frequencyMHz === frequency)
  return (
    <>
      <div class="band-choice">
        <Choice
          label={FEEDS.band}
          options={BANDS.map(b => ({
            value: String(b.frequencyMHz),
            word: fixed(b.frequencyMHz, 0),
            note: b.name,
          }))}
          value={band ? String(band.frequencyMHz) : null}
          onPick={mhz => view.write(path, mhz)}
        />
      </div>
      <NumberAt view={view} path={path} />
    </>
  )
}

function FedChoice({ view }: { view: FormView }) {
  return (
    <ChoiceAt
      view={view}
      path="dish.fed"
      label={DISH.fed}
      options={[
        { value: 'prime-focus', word: DISH.prime, note: DISH.primeNote },
        { value: 'offset', word: DISH.offset, note: DISH.offsetNote },
      ]}
    />
  )
}

/** @param isNew  the third of the three questions: the frequency belongs to it */
export function DishStep({ view, isNew }: { view: FormView; isNew: boolean }) {
  const first = view.form.rows.feeds[0]
  return (
    <>
      <NumberAt view={view} path="dish.diameterM" />
      {isNew && first && <FrequencyAt view={view} path={`feeds.${first.key}.frequencyMHz`} />}
      <FedChoice view={view} />
      {isNew ? (
        <HelpLine word={DISH.more}>
          <DishShape view={view} />
        </HelpLine>
      ) : (
        <DishShape view={view} />
      )}
    </>
  )
}

function DishShape({ view }: { view: FormView }) {
  const byDepth = textAt(view, 'dish.by') === 'depth'
  const diameter = valueAt(view, 'dish.diameterM')
  const depth = byDepth ? valueAt(view, 'dish.depth') : null
  const ratio = diameter && depth ? focalRatioFromDepth(1000 * diameter, depth) : null
  return (
    <>
      {textAt(view, 'dish.fed') === 'offset' && <Text quiet>{DISH.offsetShape}</Text>}
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
            <FrequencyAt view={view} path={at('frequencyMHz')} />
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

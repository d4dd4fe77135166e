/** The mount and its two axes: what kind, what each axis shows, and how far it goes. */
import { angleFromReading } from '../../core/readout/readout.ts'
import type { Axis, MountKind } from '../../core/records/fieldbook.ts'
import { READOUT_TYPES, readoutFromRecord } from '../../core/records/readouts.ts'
import { degFromRad } from '../../core/units.ts'
import { degrees, NBSP } from '../kit/format.ts'
import { KindDrawing } from '../kit/KindDrawing.tsx'
import { AXES_OF, HEADING_OF, ZERO_OF } from '../kit/mountwords.ts'
import { Notice } from '../kit/Notice.tsx'
import { Text } from '../kit/numbers.tsx'
import { MOUNT_WORDS } from '../kit/phrases.ts'
import { READOUT_WORDS } from '../kit/readoutwords.ts'
import { DialDrawingPlot } from './DialDrawingPlot.tsx'
import { valueAt } from './DishSteps.tsx'
import { ChoiceAt, type FormView, NumberAt, textAt } from './FormFields.tsx'
import { numbersOf } from './form.ts'
import { JackFields } from './JackFields.tsx'
import { axisOf, FIELDS, MOUNT, READOUT } from './words.ts'

const KINDS = Object.keys(MOUNT_WORDS) as MountKind[]
export const kindOf = (view: FormView): MountKind | null =>
  KINDS.find(kind => kind === textAt(view, 'mount.kind')) ?? null

export function MountStep({ view }: { view: FormView }) {
  const kind = kindOf(view)
  const latDeg = valueAt(view, 'site.latDeg') ?? 45
  const turned = kind === 'az-over-el' || kind === 'x-y'
  const headingDeg = turned ? valueAt(view, 'mount.headingDeg') : null
  const offsetDeg = kind === 'az-over-el' ? valueAt(view, 'mount.boresightOffsetDeg') : null
  return (
    <>
      <div class="kind-choice">
        <ChoiceAt
          view={view}
          path="mount.kind"
          label={MOUNT.kind}
          options={KINDS.map(value => ({
            value,
            word: (
              <>
                <KindDrawing kind={value} latDeg={latDeg} />
                {MOUNT_WORDS[value]}
              </>
            ),
          }))}
        />
      </div>
      {kind === null && <Text quiet>{MOUNT.lines}</Text>}
      {kind && (
        <>
          <Text>{AXES_OF[kind]}</Text>
          <Text quiet>{MOUNT.notes[kind]}</Text>
          <DialDrawingPlot
            drawing={{
              kind,
              latDeg,
              ...(headingDeg !== null && { headingDeg }),
              ...(offsetDeg !== null && { offsetDeg }),
            }}
            showWords
          />
          {turned && (
            <NumberAt
              view={view}
              path="mount.headingDeg"
              hint={`${HEADING_OF[kind]} ${FIELDS['mount.headingDeg']!.hint}`}
            />
          )}
          {kind === 'az-over-el' && <NumberAt view={view} path="mount.boresightOffsetDeg" />}
        </>
      )}
    </>
  )
}

export function AxisStep({ view, axis }: { view: FormView; axis: Axis }) {
  const kind = kindOf(view)
  const name = axisOf(kind, axis)
  const at = (field: string) => `mount.${axis}.readout.${field}`
  const type = textAt(view, at('type'))
  return (
    <>
      <ChoiceAt
        view={view}
        path={at('type')}
        label={READOUT.type}
        long
        options={READOUT_TYPES.map(value => ({ value, ...READOUT_WORDS[value] }))}
      />
      {kind && <Text quiet>{ZERO_OF[kind][axis]}</Text>}
      {type === '' && <Text quiet>{READOUT.notKnown}</Text>}
      {type === 'jack' ? (
        <JackFields view={view} axis={axis} name={name} />
      ) : (
        numbersOf(type).map(field => <NumberAt key={field} view={view} path={at(field)} />)
      )}
      {type === 'degrees' && <NumberAt view={view} path={`mount.${axis}.stepDeg`} />}
      {type !== '' && (
        <>
          <h2>{READOUT.limits}</h2>
          <Text quiet>
            {type === 'degrees' ? READOUT.limitsDegrees : READOUT.limitsCounts} {READOUT.limitsOpen}
          </Text>
          <NumberAt view={view} path={`mount.${axis}.minReading`} />
          <NumberAt view={view} path={`mount.${axis}.maxReading`} />
          {type !== 'degrees' && <Span view={view} axis={axis} name={name} />}
        </>
      )}
    </>
  )
}

/** What the axis would do between its limits: a wrong sign or zero shows here at once. */
function Span({ view, axis, name }: { view: FormView; axis: Axis; name: string }) {
  const at = (field: string) => `mount.${axis}.readout.${field}`
  const min = valueAt(view, `mount.${axis}.minReading`)
  const max = valueAt(view, `mount.${axis}.maxReading`)
  const number = (field: string) => valueAt(view, at(field))
  const type = textAt(view, at('type'))
  const jack = type === 'jack'
  const fields = numbersOf(type)
  const values = Object.fromEntries(fields.map(field => [field, number(field)]))
  const direction = textAt(view, at('direction'))
  const missing = Object.values(values).some(value => value === null) || (jack && direction === '')
  if (min === null || max === null || missing || values.countsPerDeg === 0) return null
  const readout = readoutFromRecord({
    type,
    ...values,
    ...(jack && { direction: direction === '-1' ? -1 : 1 }),
  } as Parameters<typeof readoutFromRecord>[0])
  const ends = [min, max].map(reading => angleFromReading(readout, reading))
  const [from, to] = ends.map(end => (end.kind === 'angle' ? degrees(degFromRad(end.angle), 1) : null))
  if (!from || !to) return <Notice state="stop">{READOUT.open}</Notice>
  return (
    <Notice state="next" word={READOUT.makes}>
      {READOUT.span(name, from.replace(' ', NBSP), to.replace(' ', NBSP))}
    </Notice>
  )
}

/** The mount and its two axes: what kind, what each axis shows, and how far it goes. */
import type { ComponentChildren } from 'preact'
import { useState } from 'preact/hooks'
import { angleFromReading } from '../../core/readout/readout.ts'
import type { Axis, MountKind } from '../../core/records/fieldbook.ts'
import { READOUT_TYPES, readoutFromRecord } from '../../core/records/readouts.ts'
import { degFromRad } from '../../core/units.ts'
import { degrees, NBSP } from '../kit/format.ts'
import { HelpLine } from '../kit/HelpLine.tsx'
import { KindDrawing } from '../kit/KindDrawing.tsx'
import { AXES_OF, HEADING_OF, ZERO_OF } from '../kit/mountwords.ts'
import { Notice } from '../kit/Notice.tsx'
import { Text } from '../kit/numbers.tsx'
import { MOUNT_WORDS } from '../kit/phrases.ts'
import { READOUT_WORDS } from '../kit/readoutwords.ts'
import { DialDrawingPlot } from './DialDrawingPlot.tsx'
import { valueAt } from './DishSteps.tsx'
import { ChoiceAt, type FormView, NumberAt, textAt } from './FormFields.tsx'
import { askedNumbers } from './form.ts'
import { JackFields } from './JackFields.tsx'
import { axisWords, FIELDS, MOUNT_KIND, READOUT } from './words.ts'

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
          label={MOUNT_KIND.kind}
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
      {kind === null && <Text quiet>{MOUNT_KIND.lines}</Text>}
      {kind && (
        <>
          <Text>{AXES_OF[kind]}</Text>
          <Text quiet>{MOUNT_KIND.notes[kind]}</Text>
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
  const name = axisWords(kind, axis)
  const at = (field: string) => `mount.${axis}.readout.${field}`
  const type = textAt(view, at('type'))
  // A jack has many numbers: what was given before this form was opened stands in one line each, and opens at a tap.
  const [given] = useState(() => (type === 'jack' ? ('jack' as const) : null))
  return (
    <>
      <Folded word={given && `${READOUT.type}: ${READOUT_WORDS[given].word.toLowerCase()}`} atFault={type !== given}>
        <ChoiceAt
          view={view}
          path={at('type')}
          label={READOUT.type}
          long
          options={READOUT_TYPES.map(value => ({ value, ...READOUT_WORDS[value] }))}
        />
      </Folded>
      {kind && <Text quiet>{ZERO_OF[kind][axis]}</Text>}
      {type === '' && <Text quiet>{READOUT.notKnown}</Text>}
      {type === 'jack' ? (
        <JackFields view={view} axis={axis} name={name} />
      ) : (
        askedNumbers(type).map(field => <NumberAt key={field} view={view} path={at(field)} />)
      )}
      {type === 'degrees' && <NumberAt view={view} path={`mount.${axis}.stepDeg`} />}
      {type !== '' && <Limits view={view} axis={axis} isFolded={given !== null} />}
      {type !== '' && type !== 'degrees' && <Span view={view} axis={axis} name={name} />}
    </>
  )
}

/** In one line under its word, where there is one. */
function Folded({ word, atFault, children }: { word: string | null; atFault: boolean; children: ComponentChildren }) {
  if (word === null) return children
  return (
    <HelpLine word={word} atFault={atFault}>
      {children}
    </HelpLine>
  )
}

/** How far the axis goes. */
function Limits({ view, axis, isFolded }: { view: FormView; axis: Axis; isFolded: boolean }) {
  const paths = [`mount.${axis}.minReading`, `mount.${axis}.maxReading`] as const
  const type = textAt(view, `mount.${axis}.readout.type`)
  const [given] = useState(() => isFolded && paths.every(path => valueAt(view, path) !== null))
  const [from, to] = paths.map(path => textAt(view, path))
  return (
    <>
      {!given && <h2>{READOUT.limits}</h2>}
      <Folded
        word={given ? READOUT.limitsNow(from!, `${to}${NBSP}counts`) : null}
        atFault={paths.some(path => view.read.atField[path] !== undefined)}
      >
        <Text quiet>
          {type === 'degrees' ? READOUT.limitsDegrees : READOUT.limitsCounts} {READOUT.limitsOpen}
        </Text>
        {paths.map(path => (
          <NumberAt key={path} view={view} path={path} />
        ))}
      </Folded>
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
  const fields = askedNumbers(type)
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
